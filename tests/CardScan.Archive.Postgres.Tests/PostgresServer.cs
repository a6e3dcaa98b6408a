using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using Process = System.Diagnostics.Process;

namespace CardScan.Archive.Tests;

/// <summary>
/// A server of PostgreSQL's with a data folder and a port of its own, on this machine alone; it goes with the tests. Whoever may do
/// everything on the machine lets another user run it: PostgreSQL refuses to run as root.
/// </summary>
internal sealed class PostgresServer : IDisposable
{
    /// <summary>A user that needs no password here, and owns the databases.</summary>
    public const string Owner = "keeper";

    /// <summary>A user that needs one.</summary>
    public const string Guest = "guest";

    private static readonly Lazy<PostgresServer> s_shared = new(() => new());

    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-pg-").FullName;
    private readonly string _more;

    /// <param name="certificate">What it proves itself with; null for a server that does not encrypt.</param>
    public PostgresServer(X509Certificate2? certificate = null)
    {
        _more = certificate is null ? "" : "-c ssl=on -c ssl_cert_file=server.crt -c ssl_key_file=server.key";
        Port = FreePort();
        File.WriteAllText(PasswordFile, "quite secret");
        if (IsRoot) Run("chown", ["-R", "nobody", _folder]);
        Run("initdb", ["-D", Data, "-U", Owner, "-A", "trust", "-E", "UTF8", "--no-locale", "--no-sync"]);
        File.WriteAllLines(Path.Combine(Data, "pg_hba.conf"),
            [$"host all {Guest} 127.0.0.1/32 scram-sha-256", "host all all samehost trust", "local all all trust"]);
        if (certificate is not null) Prove(certificate);
        using Process _ = Process.Start("setsid", ["sh", "-c", EndWithTests]);
        Start();
        Sql("postgres", $"CREATE ROLE {Guest} LOGIN PASSWORD 'quite secret'");
    }

    /// <summary>The one that tests share.</summary>
    public static PostgresServer Shared => s_shared.Value;

    public int Port { get; }

    private static bool IsRoot => Environment.UserName == "root";

    private static string Programs { get; } = Path.Combine(
        Directory.GetDirectories("/usr/lib/postgresql").Order(StringComparer.Ordinal).Last(), "bin");

    private string Data => Path.Combine(_folder, "data");

    private string PasswordFile => Path.Combine(_folder, "password");

    public void Start() => Run("pg_ctl", ["-D", Data, "-w", "-l", Path.Combine(_folder, "log"), "-o", Options, "start"]);

    /// <summary>Ends it as a power cut would.</summary>
    public void Kill() => Run("pg_ctl", ["-D", Data, "-m", "immediate", "-w", "stop"]);

    /// <summary>Runs a statement as the owner.</summary>
    public string Sql(string database, string sql) =>
        Run("psql", ["-h", "127.0.0.1", "-p", $"{Port}", "-U", Owner, "-d", database, "-v", "ON_ERROR_STOP=1", "-Atqc", sql]);

    /// <summary>Runs one of PostgreSQL's programs.</summary>
    public string Run(string program, IEnumerable<string> arguments)
    {
        string path = program == "chown" ? program : Path.Combine(Programs, program);
        ProcessStartInfo start = IsRoot && program != "chown"
            ? new("setpriv", ["--reuid=nobody", "--regid=nogroup", "--clear-groups", path, .. arguments])
            : new(path, arguments);
        (start.RedirectStandardOutput, start.WorkingDirectory) = (program != "pg_ctl", _folder);
        using Process process = Process.Start(start)!;
        string told = start.RedirectStandardOutput ? process.StandardOutput.ReadToEnd() : "";
        process.WaitForExit();
        return process.ExitCode == 0 ? told.Trim() : throw new InvalidOperationException($"{program} ends with {process.ExitCode}");
    }

    public void Dispose()
    {
        if (!Directory.Exists(_folder)) return;
        Kill();
        Directory.Delete(_folder, recursive: true);
    }

    private string Options => $"-c listen_addresses=127.0.0.1,{Dns.GetHostName()} -c port={Port} -c unix_socket_directories={_folder} "
        + $"-c max_connections=300 -c fsync=off {_more}"; // no test cuts the power

    /// <summary>Whoever runs the tests may end their process at any moment: another one waits for that, and clears up.</summary>
    private string EndWithTests => $"""
        exec </dev/null >/dev/null 2>&1
        while [ -d /proc/{Environment.ProcessId} ] && [ -d {_folder} ]; do sleep 1; done
        [ -d {_folder} ] || exit 0
        {(IsRoot ? "setpriv --reuid=nobody --regid=nogroup --clear-groups" : "")} {Programs}/pg_ctl -D {Data} -m immediate -w stop
        rm -rf {_folder}
        """;

    private void Prove(X509Certificate2 certificate)
    {
        string key = Path.Combine(Data, "server.key");
        File.WriteAllText(Path.Combine(Data, "server.crt"), certificate.ExportCertificatePem());
        File.WriteAllText(key, certificate.GetECDsaPrivateKey()!.ExportPkcs8PrivateKeyPem());
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(key, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        if (IsRoot) Run("chown", ["nobody", key]);
    }

    private static int FreePort()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
