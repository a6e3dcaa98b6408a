using CardScan.Model;

namespace CardScan.Web;

/// <summary>
/// What the archive was asked last: over a thousand cards some answers take a tenth of a second, and they stay the same until the
/// archive changes.
/// </summary>
/// <param name="state">Another text after whatever any process has changed.</param>
/// <param name="ask">Asks the archive.</param>
internal sealed class QueryShelf<T>(Func<string> state, Func<ArchiveQuery, Outcome<T>> ask)
    where T : class
{
    /// <summary>Questions whose answers are held.</summary>
    private const int Most = 16;

    private readonly Lock _lock = new();
    private readonly Dictionary<ArchiveQuery, T> _held = [];
    private string _state = "";

    /// <summary>What answers a query.</summary>
    public Outcome<T> Take(ArchiveQuery query)
    {
        // Looked at first: what changes meanwhile is asked for again.
        string now = state();
        lock (_lock)
        {
            if (now != _state) _held.Clear();
            _state = now;
            if (_held.TryGetValue(query, out T? held)) return held;
        }

        Outcome<T> answer = ask(query);
        if (answer.IsRefused) return answer;
        lock (_lock)
        {
            if (now != _state) return answer;
            if (_held.Count == Most) _held.Clear();
            _held[query] = answer.Value;
        }

        return answer;
    }
}
