using System.Data.Common;

namespace CardScan.Archive;

/// <summary>Puts many rows into one table with one statement.</summary>
internal sealed class RowWriter : IDisposable
{
    private readonly Database _database;
    private readonly DbCommand _command;

    /// <param name="database">With the transaction that is under way.</param>
    /// <param name="table">The table.</param>
    /// <param name="columns">Its columns, in the order in which values are given.</param>
    public RowWriter(Database database, string table, params string[] columns)
    {
        _database = database;
        _command = database.Connection.CreateCommand();
        string names = string.Join(", ", columns.Select(column => $"\"{column}\""));
        string values = string.Join(", ", columns.Select((_, i) => $"@p{i}"));
        _command.CommandText = $"INSERT INTO {table} ({names}) VALUES ({values})";
        for (int i = 0; i < columns.Length; i++)
        {
            DbParameter parameter = _command.CreateParameter();
            parameter.ParameterName = $"@p{i}";
            _command.Parameters.Add(parameter);
        }
    }

    /// <summary>Puts one row; null stands for an absent value.</summary>
    public void Put(params ReadOnlySpan<object?> values)
    {
        for (int i = 0; i < values.Length; i++) _command.Parameters[i].Value = _database.Stored(values[i]) ?? DBNull.Value;
        _command.ExecuteNonQuery();
    }

    /// <inheritdoc/>
    public void Dispose() => _command.Dispose();
}
