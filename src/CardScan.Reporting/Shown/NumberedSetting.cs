using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A recommended setting under its number on the page; goals that lead to the same cell and setting share one.</summary>
/// <param name="Number">From 1, in the reading's order.</param>
/// <param name="Goals">The recommendations that name it, one or more.</param>
internal sealed record NumberedSetting(int Number, ValueList<Recommendation> Goals)
{
    /// <summary>Any of them: setting and cell are the same.</summary>
    public Recommendation First => Goals[0];

    /// <summary>The settings a reading recommends, each once.</summary>
    public static ValueList<NumberedSetting> Of(Reading reading) => reading.Recommendations
        .GroupBy(each => (each.Card, each.Cell?.Row, each.Cell?.Column, each.PowerPercent, each.SpeedMmPerMin))
        .Select((group, index) => new NumberedSetting(index + 1, group.ToValueList()))
        .ToValueList();

    /// <summary>The names of its goals: "Sure cut · Cleanest sure cut".</summary>
    public string Name(Reading reading) => string.Join(" · ", Goals.Select(goal => GoalName.Of(goal, reading)));
}
