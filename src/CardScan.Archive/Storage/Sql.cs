using System.Data.Common;

namespace CardScan.Archive;

/// <summary>
/// Statements with their values to a database, and rows from it, without reflection. A value's name is that of its parameter,
/// without the "@".
/// </summary>
internal static class Sql
{
    /// <summary>Runs statements that give no rows.</summary>
    public static void Execute(this Database database, string sql, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using DbCommand command = CommandOf(database, sql, values);
        command.ExecuteNonQuery();
    }

    /// <summary>Every row of a query.</summary>
    public static List<T> Query<T>(
        this Database database, string sql, Func<StoredRow, T> read, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using DbCommand command = CommandOf(database, sql, values);
        using DbDataReader reader = command.ExecuteReader();
        List<T> rows = [];
        while (reader.Read()) rows.Add(read(new(reader)));
        return rows;
    }

    /// <summary>The row of a query that has one.</summary>
    /// <exception cref="InvalidOperationException">It has none, or several.</exception>
    public static T Single<T>(
        this Database database, string sql, Func<StoredRow, T> read, params ReadOnlySpan<(string Name, object? Value)> values) =>
        database.Query(sql, read, values).Single();

    /// <summary>The whole number in the first column of the first row; null where there is none.</summary>
    public static long? Number(this Database database, string sql, params ReadOnlySpan<(string Name, object? Value)> values) =>
        database.Query(sql, row => row.First(), values).FirstOrDefault() switch
        {
            null => null,
            long number => number,
            var other => throw new InvalidDataException($"\"{other}\" is no stored number"),
        };

    /// <summary>How many rows a query counts.</summary>
    public static long Count(this Database database, string sql, params ReadOnlySpan<(string Name, object? Value)> values) =>
        database.Number(sql, values) ?? 0;

    private static DbCommand CommandOf(Database database, string sql, ReadOnlySpan<(string Name, object? Value)> values)
    {
        DbCommand command = database.Connection.CreateCommand();
        command.CommandText = sql;
        foreach ((string name, object? value) in values)
        {
            DbParameter parameter = command.CreateParameter();
            parameter.ParameterName = $"@{name}";
            parameter.Value = database.Stored(value) ?? DBNull.Value;
            command.Parameters.Add(parameter);
        }

        return command;
    }
}

/// <summary>
/// The row at which a query is, by the names of its columns. A value of another kind than its column's is a damaged database's:
/// <see cref="InvalidDataException"/>.
/// </summary>
internal readonly struct StoredRow(DbDataReader reader)
{
    public long Long(string column) => As<long>(column, Value(column));

    public long? LongOrNull(string column) => Value(column) is { } value ? As<long>(column, value) : null;

    public int Int(string column) => Narrow(column, Long(column));

    public int? IntOrNull(string column) => LongOrNull(column) is { } value ? Narrow(column, value) : null;

    public double Real(string column) => As<double>(column, Value(column));

    public double? RealOrNull(string column) => Value(column) is { } value ? As<double>(column, value) : null;

    public bool Flag(string column) => Long(column) != 0;

    public string Text(string column) => As<string>(column, Value(column));

    public string? TextOrNull(string column) => Value(column) is { } value ? As<string>(column, value) : null;

    public byte[] Bytes(string column) => As<byte[]>(column, Value(column));

    /// <summary>Every column with its value.</summary>
    public (string Column, object? Value)[] All()
    {
        DbDataReader all = reader;
        StoredRow row = this;
        return [.. Enumerable.Range(0, reader.FieldCount).Select(i => (all.GetName(i), row.Value(i)))];
    }

    /// <summary>What stands in the first column.</summary>
    public object? First() => Value(0);

    private object? Value(string column) => Value(reader.GetOrdinal(column));

    /// <summary>Of the two databases one has answers to questions and short numbers of their own.</summary>
    private object? Value(int column) => reader.GetValue(column) switch
    {
        DBNull => null,
        bool answer => answer ? 1L : 0L,
        int number => (long)number,
        var value => value,
    };

    private static int Narrow(string column, long value) =>
        value is >= int.MinValue and <= int.MaxValue ? (int)value : throw Misfit(column, value);

    private static T As<T>(string column, object? value) => value is T typed ? typed : throw Misfit(column, value);

    private static InvalidDataException Misfit(string column, object? value) =>
        new InvalidDataException($"\"{value}\" is no stored {column}");
}
