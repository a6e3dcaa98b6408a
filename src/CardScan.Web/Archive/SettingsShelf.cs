using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>
/// The settings that were looked up last: over a thousand cards that takes a tenth of a second, and gives the same until the
/// archive changes.
/// </summary>
internal sealed class SettingsShelf(ArchivePlace archive)
{
    /// <summary>Questions whose answers are held.</summary>
    private const int Most = 16;

    private readonly Lock _lock = new();
    private readonly Dictionary<ArchiveQuery, ValueList<BestSetting>> _held = [];
    private string _state = "";

    /// <summary>The newest settings that answer a query.</summary>
    public Outcome<ValueList<BestSetting>> Take(ArchiveQuery query)
    {
        // Looked at first: what changes meanwhile is asked for again.
        string state = archive.State();
        lock (_lock)
        {
            if (state != _state) _held.Clear();
            _state = state;
            if (_held.TryGetValue(query, out ValueList<BestSetting>? held)) return held;
        }

        Outcome<ValueList<BestSetting>> best = archive.Best(query);
        if (best.IsRefused) return best;
        lock (_lock)
        {
            if (state != _state) return best;
            if (_held.Count == Most) _held.Clear();
            _held[query] = best.Value;
        }

        return best;
    }
}
