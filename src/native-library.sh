# Sourced by the scripts that run CardScan: makes sure that OpenCV's native library finds what it links to. That is
# GTK 3, although CardScan opens no window, and two small libraries that GTK's packages do not bring along.

ensure_native_library() {
    [[ $(uname -s) == Linux ]] || return 0
    local PATH="$PATH:/usr/sbin:/sbin" # where Debian keeps ldconfig
    local missing
    missing=$(missing_libraries)
    [[ -n $missing ]] || return 0
    echo "OpenCV needs libraries that are missing here:" $missing >&2

    local gtk=libgtk-3-0 as_root=()
    if ! command -v apt-get >/dev/null; then
        echo "Install them with the package manager of this system, then run this again." >&2
        return 1
    fi
    if [[ $(id -u) != 0 ]]; then
        if ! command -v sudo >/dev/null || ! { sudo -n true 2>/dev/null || [[ -t 0 ]]; }; then
            echo "There is no right to install them here. Run as root:  apt-get update && apt-get install --no-install-recommends $gtk libdrm2 libatomic1" >&2
            echo "(on Ubuntu 24.04 and Debian 13 the first is named ${gtk}t64)" >&2
            return 1
        fi
        as_root=(sudo)
    fi

    echo "Installing them with apt-get." >&2
    "${as_root[@]}" apt-get update -qq >&2
    # The newer releases renamed the package.
    if apt-cache show "${gtk}t64" >/dev/null 2>&1; then gtk=${gtk}t64; fi
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$gtk" libdrm2 libatomic1 >&2
    missing=$(missing_libraries)
    [[ -z $missing ]] || { echo "Still missing:" $missing >&2; return 1; }
}

missing_libraries() {
    local known library
    known=$(ldconfig -p)
    for library in libgtk-3.so.0 libdrm.so.2 libatomic.so.1; do
        [[ $known == *"$library"* ]] || echo "$library"
    done
}

ensure_dotnet() {
    if ! command -v dotnet >/dev/null || [[ $(dotnet --list-sdks) != *"10."* ]]; then
        echo "The .NET 10 SDK is missing: install it from https://dotnet.microsoft.com/download, then run this again." >&2
        return 1
    fi
}
