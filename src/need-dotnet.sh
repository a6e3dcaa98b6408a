# Sourced by the scripts that build CardScan: ends them with a cure where the .NET SDK is not to be had.
if ! command -v dotnet >/dev/null || [[ $(dotnet --list-sdks) != *"10."* ]]; then
    echo "The .NET 10 SDK is missing: install it from https://dotnet.microsoft.com/download, then run this again." >&2
    exit 1
fi
