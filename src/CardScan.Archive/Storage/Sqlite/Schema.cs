using System.Text;
using CardScan.Model;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace CardScan.Archive;

/// <summary>The tables in SQLite, and how an older archive gets those of this version.</summary>
internal static class Schema
{
    /// <summary>Script i brings schema i to i + 1; a script that was released is never changed.</summary>
    public static IReadOnlyList<string> Scripts { get; } =
        [.. Enumerable.Range(1, 7).Select(i => SqlScript.Named($"Schema-{i}.sql"))];

    /// <summary>Runs the scripts that the database has not seen, all or none.</summary>
    public static void Migrate(SqliteDatabase database, IReadOnlyList<string> scripts, int applicationId)
    {
        if (Version(database) == scripts.Count) return;
        SqliteConnection connection = (SqliteConnection)database.Connection;
        connection.CreateFunction<byte[], string?>("plan_json", PlanJson, isDeterministic: true);
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        // Another process may have done it while this one waited.
        for (long version = Version(database); version < scripts.Count; version++) RunScript(connection, scripts[(int)version]);
        database.Execute($"PRAGMA application_id = {applicationId}; PRAGMA user_version = {scripts.Count}");
        transaction.Commit();
    }

    /// <summary>
    /// SQLite's own way of running a script. A command of several statements is not used: behind an ALTER TABLE that adds
    /// a column to a table with rows, Microsoft.Data.Sqlite 11.0.0 passes over the error of the next statement.
    /// </summary>
    private static void RunScript(SqliteConnection connection, string script)
    {
        int code = raw.sqlite3_exec(connection.Handle, script, out string message);
        if (code != raw.SQLITE_OK) throw new SqliteException(message, code);
    }

    /// <summary>The text of a plan as the database holds it; null where it cannot be read, which the check of the archive tells.</summary>
    private static string? PlanJson(byte[] packed)
    {
        try
        {
            byte[] json = Packed.Open(packed);
            return CardJson.ReadPlan(json).IsRefused ? null : Encoding.UTF8.GetString(json);
        }
        catch (InvalidDataException)
        {
            return null;
        }
    }

    /// <summary>The schema that a database has.</summary>
    public static long Version(SqliteDatabase database) => database.Count("PRAGMA user_version");
}
