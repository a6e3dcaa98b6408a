using System.Security.Authentication;
using CardScan.Language;
using CardScan.Model;
using Npgsql;

namespace CardScan.Archive;

/// <summary>What a server of PostgreSQL's and the way to it cause, as refusals.</summary>
internal static class PostgresFault
{
    /// <summary>The refusal that an exception stands for, or null for a fault of the program.</summary>
    /// <param name="exception">The exception.</param>
    /// <param name="archive">The archive's address.</param>
    public static Refusal? Of(Exception exception, string archive) => exception switch
    {
        PostgresException e => OfServer(e, archive),
        NpgsqlOperationInProgressException => null,
        NpgsqlException { InnerException: AuthenticationException e } =>
            Refusal.OfPlace(Codes.ArchiveUntrusted, ("archive", archive), ("why", Plain(e.Message))),
        // Asked to encrypt, and does not.
        NpgsqlException { InnerException: null } e when e.Message.Contains("SSL", StringComparison.Ordinal) =>
            Refusal.OfPlace(Codes.ArchiveUntrusted, ("archive", archive), ("why", Plain(e.Message))),
        // Asked for a password, and has none.
        NpgsqlException { InnerException: null, IsTransient: false } e when e.Message.Contains("password", StringComparison.Ordinal) =>
            Refusal.OfPlace(Codes.ArchiveLogin, ("archive", archive), ("why", Plain(e.Message))),
        // Every connection of this process was in use for longer than anyone waits.
        NpgsqlException { InnerException: TimeoutException } e when e.Message.Contains("pool", StringComparison.Ordinal) =>
            Refusal.OfPlace(Codes.ArchiveBusy, ("folder", archive)),
        NpgsqlException e => Refusal.OfPlace(
            Codes.ArchiveUnreachable, ("archive", archive), ("why", Plain((e.InnerException ?? e).Message))),
        _ => null,
    };

    // https://www.postgresql.org/docs/current/errcodes-appendix.html
    private static Refusal? OfServer(PostgresException e, string archive) => e.SqlState switch
    {
        PostgresErrorCodes.InvalidPassword or PostgresErrorCodes.InvalidAuthorizationSpecification =>
            Refusal.OfPlace(Codes.ArchiveLogin, ("archive", archive), ("why", Plain(e.MessageText))),
        PostgresErrorCodes.InvalidCatalogName =>
            Refusal.OfPlace(Codes.ArchiveNoDatabase, ("archive", archive), ("why", Plain(e.MessageText))),
        PostgresErrorCodes.DiskFull => Refusal.OfPlace(Codes.ArchiveFull, ("folder", archive)),
        PostgresErrorCodes.LockNotAvailable or PostgresErrorCodes.QueryCanceled =>
            Refusal.OfPlace(Codes.ArchiveBusy, ("folder", archive)),
        PostgresErrorCodes.TooManyConnections => Refusal.OfPlace(Codes.ArchiveCrowded, ("archive", archive)),
        PostgresErrorCodes.InsufficientPrivilege or PostgresErrorCodes.ReadOnlySqlTransaction =>
            Refusal.OfPlace(Codes.ArchiveNoRight, ("archive", archive), ("why", Plain(e.MessageText))),
        PostgresErrorCodes.AdminShutdown or PostgresErrorCodes.CrashShutdown or PostgresErrorCodes.CannotConnectNow =>
            Refusal.OfPlace(Codes.ArchiveUnreachable, ("archive", archive), ("why", Plain(e.MessageText))),
        PostgresErrorCodes.DataCorrupted or PostgresErrorCodes.IndexCorrupted =>
            Refusal.OfPlace(Codes.ArchiveDamaged, ("folder", archive)),
        _ => null,
    };

    private static string Plain(string message) => message.TrimEnd('.');
}
