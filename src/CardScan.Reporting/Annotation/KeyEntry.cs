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
        .. reading.Cells.Any(ShownCell.IsLeftOut) ? [LeftOut] : ValueList<KeyEntry>.Empty,
        new([], labels.Key),
    ];

    /// <summary>The three looks of a side, and the bridge where one is marked; nothing for a card without sides.</summary>
    public static IEnumerable<KeyEntry> SidesOf(Reading reading)
    {
        Sides[] sides = [.. reading.Cells.Select(cell => cell.Sides).OfType<Sides>()];
        if (sides.Length == 0) return [];
        return sides.SelectMany(ShownCell.Each).Any(SideMarks.HasPlacedBridge) ? [.. Looks, Bridge] : Looks;
    }

    private static ValueList<KeyEntry> Looks =>
    [
        new(Side(SideLook.Through), Voice.Say("page.key.through")),
        new(Side(SideLook.Held), Voice.Say("page.key.held")),
        new(Side(SideLook.Unseen), Voice.Say("page.key.unseen")),
    ];

    private static KeyEntry Bridge => new(
        [.. Side(SideLook.Held), new StrokeMark([new(0.7, 0.5), new(1.3, 0.5)], 0.32, Ink.Held, CasingFactor: 1.4)],
        Voice.Say("page.key.bridge"));

    private static KeyEntry LeftOut => new(
        [new StrokeMark([new(0.3, 0.1), new(1.7, 0.1), new(1.7, 0.9), new(0.3, 0.9)], 0.09, Ink.Outline, IsClosed: true, Dash: 0.2)],
        Voice.Say("page.key.left-out"));

    /// <summary>The recommended settings, each under its number.</summary>
    public static IEnumerable<KeyEntry> Recommendations(Reading reading) => NumberedSetting.Of(reading).Select(numbered =>
    {
        Recommendation recommendation = numbered.First;
        List<(string, Figure)> values = [("goal", numbered.Name(reading)), ("setting", ShownSetting.Of(reading, recommendation))];
        double? best = Reading.BestEstimateOf(recommendation);
        if (recommendation.Confidence is double p) values.AddRange([("chance", Share(p)), ("likely", ShownGoal.Likely(best ?? p))]);
        if (best is { } estimate) values.Add(("best", Share(estimate)));
        if (recommendation.Card is { } card) values.Add(("card", card));
        return new KeyEntry([new BadgeMark($"{numbered.Number}", new(1, 0.5), 0.42)], Voice.Say("page.key.setting", values));
    });

    private static ValueList<Mark> Side(SideLook look) => SideMarks.Of(look, new(0.1, 0.5), new(1.9, 0.5), 0.18).ToValueList();
}
