using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using Process = System.Diagnostics.Process;

namespace CardScan.Archive.Tests;

/// <summary>
/// OpenStack's object store with its S3 interface, with a folder and a port of its own, on this machine alone; it goes with the tests.
/// </summary>
internal sealed class ObjectStore : IDisposable
{
    /// <summary>A bucket that is there.</summary>
    public const string Bucket = "cards";

    private static readonly Lazy<ObjectStore> s_shared = new(() => new());

    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-store-").FullName;
    private readonly int _port = FreePort();
    private readonly string? _certificate;
    private Process _process;

    /// <summary>Archives take their keys from there, and so do the processes that tests start.</summary>
    static ObjectStore()
    {
        Environment.SetEnvironmentVariable("AWS_ACCESS_KEY_ID", Keys.Id);
        Environment.SetEnvironmentVariable("AWS_SECRET_ACCESS_KEY", Keys.Secret);
    }

    /// <param name="certificate">What it proves itself with, its key included; null for a server that does not encrypt.</param>
    public ObjectStore(X509Certificate2? certificate = null)
    {
        if (certificate is not null)
        {
            _certificate = Path.Combine(_folder, "server.pem");
            File.WriteAllText(_certificate,
                $"{certificate.ExportCertificatePem()}\n{certificate.GetECDsaPrivateKey()!.ExportPkcs8PrivateKeyPem()}\n");
        }

        _process = Started();
        if (certificate is null) Client().Put("", S3Signature.OfNothing, () => new MemoryStream()); // which makes the bucket
    }

    /// <summary>The one that tests share.</summary>
    public static ObjectStore Shared => s_shared.Value;

    /// <summary>Keys that it knows.</summary>
    public static S3Keys Keys { get; } = new("workshop:keeper", "quite-secret", null);

    public int Port => _port;

    /// <summary>As addresses of archives name it.</summary>
    public string Server => $"http://127.0.0.1:{_port}";

    /// <summary>What reaches its bucket.</summary>
    /// <param name="port">Another way to it.</param>
    /// <param name="clock">Another clock than the system's.</param>
    public S3Client Client(int? port = null, TimeProvider? clock = null) => new(Address(port), Keys, clock);

    public S3Address Address(int? port = null, string prefix = "", string bucket = Bucket) =>
        new(new Uri($"http://127.0.0.1:{port ?? _port}"), bucket, prefix, "us-east-1", null);

    /// <summary>Ends it as a power cut would.</summary>
    public void Kill()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    /// <summary>Starts it again, with what it had.</summary>
    public void Start()
    {
        _process.Dispose();
        _process = Started();
    }

    public void Dispose()
    {
        Kill();
        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private Process Started()
    {
        string script = Path.Combine(AppContext.BaseDirectory, "object-store.py");
        string[] arguments = [script, _folder, $"{_port}", .. _certificate is null ? [] : new[] { _certificate }];
        ProcessStartInfo start = new("/usr/bin/python3", arguments) { RedirectStandardOutput = true, UseShellExecute = false };
        Process process = Process.Start(start)!;
        return process.StandardOutput.ReadLine() == "ready" ? process : throw new InvalidOperationException("It does not start.");
    }

    private static int FreePort()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
