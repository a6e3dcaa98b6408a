using System.Net;
using CardScan.Language;
using CardScan.Model;
using Npgsql;

namespace CardScan.Archive;

/// <summary>
/// Where the archive of a workshop is: <c>postgresql://user@server:5432/database?files=/srv/cardscan</c>. The database holds
/// everything but files; those stand in a folder that all computers of the workshop reach, each under a path of its own, or in a bucket:
/// <c>files=s3://cards/shop&amp;s3=https://store:9000</c>.
/// </summary>
/// <remarks>
/// The form is that of PostgreSQL's own programs (https://www.postgresql.org/docs/current/libpq-connect.html, 34.1.1.2), with "files"
/// and "s3" added. The password is not part of it: it is taken from PGPASSWORD or from the password file, as those programs do.
/// </remarks>
internal sealed record PostgresAddress
{
    private const string Files = "files", Socket = "host", Authority = "sslrootcert", Store = "s3", StoreRegion = "s3region",
        StoreAuthority = "s3rootcert";

    private static readonly string[] s_parts = [Files, Socket, Authority, Store, StoreRegion, StoreAuthority];

    /// <summary>How long a server may take to answer, seconds.</summary>
    private const int WaitSeconds = 15;

    /// <summary>Connections that one process holds at most; a server has a hundred for all.</summary>
    private const int MostConnections = 20;

    /// <summary>The address without what need not be told.</summary>
    public required string Name { get; init; }

    /// <summary>What connects to it.</summary>
    public required string Connection { get; init; }

    /// <summary>The database on the server.</summary>
    public required string Database { get; init; }

    /// <summary>The folder of the files; null where they are in a bucket.</summary>
    public required string? Folder { get; init; }

    /// <summary>The bucket of the files; null where they are in a folder.</summary>
    public required S3Address? Bucket { get; init; }

    /// <summary>True where a text is meant to be such an address.</summary>
    public static bool IsOne(string text) =>
        text.StartsWith("postgresql:", StringComparison.OrdinalIgnoreCase)
        || text.StartsWith("postgres:", StringComparison.OrdinalIgnoreCase);

    /// <summary>Reads an address.</summary>
    /// <returns>The address; or what is wrong with it, its password never told.</returns>
    public static Outcome<PostgresAddress> Of(string text)
    {
        if (!Uri.TryCreate(text, UriKind.Absolute, out Uri? uri)) return Refusal.OfInput(Codes.ArchiveAddress);
        if (uri.UserInfo.Contains(':', StringComparison.Ordinal)) return Refusal.OfInput(Codes.ArchivePassword);
        Dictionary<string, string> given = Parameters(uri.Query);
        if (given.Keys.FirstOrDefault(key => !s_parts.Contains(key)) is { } unknown)
            return Refusal.OfInput(Codes.ArchiveAddressPart, ("part", unknown));
        string host = given.GetValueOrDefault(Socket) ?? uri.DnsSafeHost, database = Uri.UnescapeDataString(uri.AbsolutePath.Trim('/'));
        // Several hosts in one name could be this machine and another, which would then not have to prove who it is.
        if (database.Length == 0 || host is "" or "0.0.0.0" or "::" || host.Contains(',', StringComparison.Ordinal))
            return Refusal.OfInput(Codes.ArchiveAddress);
        if (!given.TryGetValue(Files, out string? files)) return Refusal.OfInput(Codes.ArchiveNoFiles);
        bool isBucket = files.StartsWith(S3Address.Scheme, StringComparison.OrdinalIgnoreCase);
        if (!isBucket && (given.ContainsKey(Store) || !Path.IsPathFullyQualified(files))) return Refusal.OfInput(Codes.ArchiveNoFiles);
        Outcome<S3Address>? bucket = !isBucket ? null : S3Address.Of(
            files, given.GetValueOrDefault(Store), given.GetValueOrDefault(StoreRegion), given.GetValueOrDefault(StoreAuthority));
        if (bucket is { IsRefused: true }) return bucket.Refusal!;
        return new PostgresAddress
        {
            Name = $"postgresql://{uri.Host}{(uri.IsDefaultPort || uri.Port < 0 ? "" : $":{uri.Port}")}/{database}",
            Connection = ConnectionOf(uri, host, database, given.GetValueOrDefault(Authority)),
            Database = database,
            Folder = isBucket ? null : files,
            Bucket = bucket?.Value,
        };
    }

    /// <summary>The files.</summary>
    /// <param name="write">See <see cref="FolderStore"/>.</param>
    /// <exception cref="S3Fault">There are no keys to the bucket.</exception>
    public FileStore FilesOf(Action<FileStream, ReadOnlySpan<byte>>? write = null) =>
        Bucket is { } bucket ? new BucketStore(bucket) : new FolderStore(Folder!, write);

    private static string ConnectionOf(Uri uri, string host, string database, string? authority)
    {
        NpgsqlConnectionStringBuilder connection = new()
        {
            Host = host,
            Database = database,
            SearchPath = PostgresDatabase.Schema,
            // What goes over a network is encrypted, and the server proves who it is.
            SslMode = IsThisMachine(host) ? SslMode.Prefer : SslMode.VerifyFull,
            RootCertificate = authority,
            Timeout = WaitSeconds,
            CommandTimeout = 20 * WaitSeconds, // a check of everything is one statement or another of some minutes
            KeepAlive = WaitSeconds,
            MaxPoolSize = MostConnections,
            ApplicationName = "cardscan",
            // The views of names look dear to the planner, and compiling a query takes longer than any of them.
            Options = "-c jit=off",
        };
        if (uri.Port > 0) connection.Port = uri.Port;
        if (uri.UserInfo.Length > 0) connection.Username = Uri.UnescapeDataString(uri.UserInfo);
        return connection.ConnectionString;
    }

    /// <summary>A path is the folder of the server's socket, which only this machine has.</summary>
    public static bool IsThisMachine(string host) =>
        host.StartsWith('/') || host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(host, out IPAddress? address) && IPAddress.IsLoopback(address));

    private static Dictionary<string, string> Parameters(string query) => query.TrimStart('?')
        .Split('&', StringSplitOptions.RemoveEmptyEntries)
        .Select(pair => pair.Split('=', 2))
        .DistinctBy(pair => pair[0])
        .ToDictionary(pair => pair[0], pair => Uri.UnescapeDataString(pair.ElementAtOrDefault(1) ?? ""));
}
