using System.Text;
using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Workflow;

/// <summary>The histories of machines as their page has them.</summary>
public static class HistoryPage
{
    /// <summary>What the page is made from.</summary>
    /// <param name="book">The histories.</param>
    public static ValueList<HistoryInput> Of(HistoryBook book)
    {
        ArgumentNullException.ThrowIfNull(book);
        return book.Machines.Select(history => new HistoryInput(
            Voice.Tell(history.HeadingFigure()), StateOf(history),
            history.Stretches.SelectMany(stretch => stretch.Rows.Select((row, i) => DotOf(row, i == 0 ? stretch.After : null)))
                .ToValueList())).ToValueList();
    }

    /// <summary>Writes the page.</summary>
    /// <param name="book">The histories.</param>
    /// <param name="path">The file; one that is there is replaced where it is such a page.</param>
    /// <returns>Why it was not written; null where it was.</returns>
    public static Refusal? Write(HistoryBook book, string path) => FreshFile.Write(
        path, Encoding.UTF8.GetBytes(CardReport.HistoryHtml(Of(book))), file => CardReport.IsHistoryHtml(file));

    /// <summary>What the newest cards of a machine tell, one sentence each.</summary>
    /// <param name="history">The machine.</param>
    public static ValueList<string> StateOf(MachineHistory history)
    {
        ArgumentNullException.ThrowIfNull(history);
        string state = Voice.Tell(history.Newest.StateFigure());
        return history.Newest.Drift is { } drift ? [HistoryWords.Warn(history.Machine, drift).Message, state] : [state];
    }

    private static HistoryDot DotOf(HistoryRow row, MachineChange? after) => new(
        HistoryWords.Day(row.On), Voice.Tell(row.CardFigure()), row.Card.ReadingName, row.Point is { } point ? EnergyOf(point) : null)
    {
        Limit = row.Point?.Limit is { } limit ? Math.Exp(limit) : null,
        Mean = row.Point?.Mean is { } mean
            ? new("energyFactor", Math.Exp(mean.Ln), Math.Exp(-mean.Limit), Math.Exp(mean.Limit))
            : null,
        IsOutside = row.Point is { IsUnexplained: true },
        After = after is null ? null : Voice.Tell(after.ToFigure()),
    };

    private static Interval EnergyOf(NeedPoint point)
    {
        Number factor = HistoryWords.FactorOf(point);
        return new("energyFactor", factor.Value, factor.Low!.Value, factor.High!.Value);
    }
}
