using System.Diagnostics;
using Process = System.Diagnostics.Process;

namespace CardScan.Cli.Tests;

/// <summary>Runs scripts with <c>cardscan</c> where a folder cannot be written, or is a small disk of its own.</summary>
/// <remarks>
/// A name space of its own lets anybody mount (root too, for whom permissions mean nothing). Where the system allows none, permissions
/// bind an ordinary user, and root becomes one.
/// </remarks>
internal static class BoundDisk
{
    private const string OwnMounts = "unshare --map-root-user --mount bash -c";

    private static string Program => $"cardscan() {{ dotnet '{Path.Combine(AppContext.BaseDirectory, "cardscan.dll")}' \"$@\"; }}";

    /// <summary>Runs a script that sees a folder read-only; each way is tried until one binds.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="script">The script, for bash.</param>
    /// <param name="arguments">What it finds as $1, $2, …</param>
    internal static string ReadOnly(string folder, string script, params string[] arguments)
    {
        string mounted = $"mount --bind '{folder}' '{folder}' && mount -o remount,ro,bind '{folder}'";
        string[] ways =
        [
            $"{OwnMounts} '{Quoted($"{mounted} && exec bash \"$@\"")}' bash",
            $"chmod -R a+rX,a-w '{folder}' && exec bash",
            $"chmod -R a+rX,a-w '{folder}' && exec setpriv --reuid=65534 --regid=65534 --clear-groups bash",
        ];
        string body = $"touch '{folder}/probe' 2>/dev/null && exit 99\n{Program}\n{script}";
        foreach (string way in ways)
        {
            (int code, string output) = Run($"{way} \"$@\"", ["-c", body, "bash", .. arguments]);
            if (code == 0) return output;
            if (File.Exists(Path.Combine(folder, "probe"))) File.Delete(Path.Combine(folder, "probe"));
        }

        throw new InvalidOperationException($"nothing here makes {folder} read-only");
    }

    /// <summary>Runs a script where an empty folder is a disk of some size; null where the system lets nobody mount.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="kilobytes">Size.</param>
    /// <param name="script">The script, for bash.</param>
    /// <param name="arguments">What it finds as $1, $2, …</param>
    internal static string? Small(string folder, int kilobytes, string script, params string[] arguments)
    {
        string mount = $"mount -t tmpfs -o size={kilobytes}k none '{folder}'";
        if (Run($"{OwnMounts} \"{mount}\"", []).Code != 0) return null;
        string body = $"{mount}\n{Program}\n{script}";
        (int code, string output) = Run("unshare --map-root-user --mount bash \"$@\"", ["-c", body, "bash", .. arguments]);
        return code == 0 ? output : throw new InvalidOperationException(output);
    }

    /// <summary>
    /// Runs a script with <c>limited</c>, after which no file grows beyond 32 KB: who tries is killed, or told where it ignores that.
    /// </summary>
    /// <param name="script">The script, for bash.</param>
    /// <param name="arguments">What it finds as $1, $2, …</param>
    internal static string Limited(string script, params string[] arguments)
    {
        // The runtime's own memory is a file that would be too large.
        string body = $"export DOTNET_EnableWriteXorExecute=0\nlimited() {{ ulimit -f 32; }}\n{Program}\n{script}";
        (int code, string output) = Run("bash \"$@\"", ["-c", body, "bash", .. arguments]);
        return code == 0 ? output : throw new InvalidOperationException(output);
    }

    private static string Quoted(string script) => script.Replace("'", "'\\''", StringComparison.Ordinal);

    private static (int Code, string Output) Run(string command, string[] arguments)
    {
        ProcessStartInfo start = new("bash", ["-c", command, "bash", .. arguments])
        {
            RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false, WorkingDirectory = "/",
        };
        start.Environment["NO_COLOR"] = "1";
        start.Environment["CARDSCAN_PROFILES"] = "/nowhere";
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output + errors.Result);
    }
}
