using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>The comparisons that were looked at last: kept readings never change, so two of them are compared once.</summary>
internal sealed class ComparisonShelf(ArchivePlace archive)
{
    /// <summary>Comparisons that are held, each a few hundred kilobytes with its readings.</summary>
    private const int Most = 16;

    private readonly Lock _lock = new();
    private readonly List<(string First, string Second, ComparisonInput Input)> _held = [];

    /// <summary>Two readings compared; or why they cannot be.</summary>
    /// <param name="first">Name of the reference in the archive: <c>r12</c>.</param>
    /// <param name="second">Name of the other reading.</param>
    public Outcome<ComparisonInput> Take(string first, string second)
    {
        lock (_lock)
        {
            if (_held.Find(each => (each.First, each.Second) == (first, second)).Input is { } held) return held;
        }

        Outcome<ValueList<LoadedReading>> readings = ReadingSource.Load([first, second], archive);
        if (readings.IsRefused) return readings.Refusal!;
        CompareRequest request = CompareRequest.Of(readings.Value, [], margin: null);
        Outcome<CompareResult> result = CompareCards.Run(request);
        if (result.IsRefused) return result.Refusal!;
        ComparisonInput input = new(result.Value.Comparison, request.Readings.Select(each => each.Reading).ToValueList(), []);
        lock (_lock)
        {
            _held.Add((first, second, input));
            if (_held.Count > Most) _held.RemoveAt(0);
        }

        return input;
    }
}
