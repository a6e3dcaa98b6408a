using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A line of the key: how something looks, and what it means.</summary>
/// <param name="Icon">Marks in a box 2 wide and 1 high; empty where the words stand alone.</param>
/// <param name="Words">What it means.</param>
internal sealed record KeyEntry(ValueList<Mark> Icon, string Words)
{
    /// <summary>What the marks over the photo mean.</summary>
    public static ValueList<KeyEntry> Of(Reading reading, CellLabels labels) =>
    [
        .. Recommendations(reading),
        .. SidesOf(reading),
        .. reading.Cells.Any(CellWords.IsLeftOut) ? [LeftOut] : ValueList<KeyEntry>.Empty,
        new([], $"{(labels.IsOverCell ? "On" : "Beside")} every cell: {labels.Key}."),
    ];

    /// <summary>The three looks of a side, and the bridge where one is marked; nothing for a card without sides.</summary>
    public static IEnumerable<KeyEntry> SidesOf(Reading reading)
    {
        Sides[] sides = [.. reading.Cells.Select(cell => cell.Sides).OfType<Sides>()];
        if (sides.Length == 0) return [];
        return sides.SelectMany(CellWords.Each).Any(side => SideMarks.HasPlacedBridge(side.Side)) ? [.. Looks, Bridge] : Looks;
    }

    private static ValueList<KeyEntry> Looks { get; } =
    [
        new(Side(SideLook.Through), "Through: the side is open over its whole length"),
        new(Side(SideLook.Held), "Held: the side holds, in part or along its whole length"),
        new(Side(SideLook.Unseen), "Unseen: no photo shows whether the side is open"),
    ];

    private static KeyEntry Bridge { get; } = new(
        [.. Side(SideLook.Held), new StrokeMark([new(0.7, 0.5), new(1.3, 0.5)], 0.32, Ink.Held, CasingFactor: 1.4)],
        "Thick bar on a held side: its longest bridge");

    private static KeyEntry LeftOut { get; } = new(
        [new StrokeMark([new(0.3, 0.1), new(1.7, 0.1), new(1.7, 0.9), new(0.3, 0.9)], 0.09, Ink.Outline, IsClosed: true, Dash: 0.2)],
        "Dashed: left out of the scoring");

    private static IEnumerable<KeyEntry> Recommendations(Reading reading)
    {
        foreach (NumberedSetting numbered in NumberedSetting.Of(reading))
        {
            Recommendation recommendation = numbered.First;
            string sure = recommendation.Confidence is double p ? $", {GoalWords.Confidence(p)} ({Numbers.Percent(p)})" : "";
            string setting = $"{SettingWords.WithUnit(Setting.PowerPercent, recommendation.PowerPercent)} at {SettingWords.WithUnit(Setting.SpeedMmPerMin, recommendation.SpeedMmPerMin)}";
            string number = numbered.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
            yield return new([new BadgeMark(number, new(1, 0.5), 0.42)], $"{numbered.Name(reading)}: {setting}{sure}{(recommendation.Card is { } card ? $"; on card {card}, so marked nowhere here" : "")}");
        }
    }

    private static ValueList<Mark> Side(SideLook look) => SideMarks.Of(look, new(0.1, 0.5), new(1.9, 0.5), 0.18).ToValueList();
}
