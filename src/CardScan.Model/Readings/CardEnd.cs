using CardScan.Language;

namespace CardScan.Model;

/// <summary>Whether a recommended setting lies where the card ends, so that nobody takes it for the end of what is possible.</summary>
public static class CardEnd
{
    /// <summary>What was not tested beyond a recommended setting.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="recommendation">One of its recommendations.</param>
    /// <returns>A sentence; null where the card goes on in every direction, or the setting is an earlier card's.</returns>
    public static string? Of(Reading reading, Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(recommendation);
        if (recommendation.OwnCell is null) return null;
        ValueList<double> speeds = ValuesOf(reading.Plan, Setting.SpeedMmPerMin), powers = ValuesOf(reading.Plan, Setting.PowerPercent);
        List<Figure> beyond = [];
        if (IsEnd(speeds, 0, recommendation.SpeedMmPerMin)) beyond.Add(new Phrase("reading.slower"));
        if (IsEnd(speeds, speeds.Count - 1, recommendation.SpeedMmPerMin)) beyond.Add(new Phrase("reading.faster"));
        // There is nothing above full power.
        if (recommendation.PowerPercent < 100 && IsEnd(powers, powers.Count - 1, recommendation.PowerPercent))
            beyond.Add(new Phrase("reading.stronger"));
        return beyond.Count == 0
            ? null
            : Voice.Say("reading.card-end", ("beyond", beyond.Count == 1
                ? beyond[0]
                : new Phrase("option.or", ("first", beyond[0]), ("last", beyond[1]))));
    }

    private static ValueList<double> ValuesOf(Plan plan, Setting setting) =>
        plan.Columns.Setting == setting ? plan.Columns.Values : plan.Rows.Setting == setting ? plan.Rows.Values : [];

    private static bool IsEnd(ValueList<double> values, int index, double value) => values.Count > 1 && values[index] == value;
}
