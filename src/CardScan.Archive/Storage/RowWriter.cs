using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>Puts many rows into one table with one prepared statement.</summary>
internal sealed class RowWriter : IDisposable
{
    private readonly SqliteCommand _command;

    /// <param name="connection">With the transaction that is under way.</param>
    /// <param name="table">The table.</param>
    /// <param name="columns">Its columns, in the order in which values are given.</param>
    public RowWriter(SqliteConnection connection, string table, params string[] columns)
    {
        _command = connection.CreateCommand();
        string names = string.Join(", ", columns.Select(column => $"\"{column}\""));
        string values = string.Join(", ", columns.Select((_, i) => $"$p{i}"));
        _command.CommandText = $"INSERT INTO {table} ({names}) VALUES ({values})";
        for (int i = 0; i < columns.Length; i++) _command.Parameters.AddWithValue($"$p{i}", DBNull.Value);
    }

    /// <summary>Puts one row; null stands for an absent value.</summary>
    public void Put(params ReadOnlySpan<object?> values)
    {
        for (int i = 0; i < values.Length; i++) _command.Parameters[i].Value = values[i] ?? DBNull.Value;
        _command.ExecuteNonQuery();
    }

    /// <inheritdoc/>
    public void Dispose() => _command.Dispose();
}
