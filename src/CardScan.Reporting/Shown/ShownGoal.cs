using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How likely a goal is reached, and by which figure it is judged.</summary>
internal static class ShownGoal
{
    private static readonly string[] Shares = ["probability", "probabilityThrough", "shareOfStrongestMark"];

    private static readonly (string Ending, Unit Unit)[] Units =
    [
        ("MmPerMin", Unit.MmPerMin), ("Percent", Unit.Percent), ("JPerMm2", Unit.JPerMm2), ("JPerMm", Unit.JPerMm),
        ("OffsetMm", Unit.OffsetMm), ("Mm", Unit.Mm),
    ];

    /// <summary>A probability in words.</summary>
    /// <remarks>
    /// The likelihood scale of the Intergovernmental Panel on Climate Change: M. D. Mastrandrea and others, Guidance
    /// Note for Lead Authors of the IPCC Fifth Assessment Report on Consistent Treatment of Uncertainties (2010), table 1.
    /// </remarks>
    public static Phrase Likely(double probability) => new("page.likely", ("level", probability switch
    {
        >= 0.99 => "virtually-certain",
        >= 0.95 => "extremely-likely",
        >= 0.90 => "very-likely",
        >= 0.66 => "likely",
        >= 0.33 => "even",
        >= 0.10 => "unlikely",
        _ => "very-unlikely",
    }));

    /// <summary>What an interval is of; its code where this version does not know it.</summary>
    public static string Name(Interval interval) => Voice.TrySay(new Phrase($"page.quantity.{interval.Quantity}")) ?? interval.Quantity;

    /// <summary>Value and limits with their unit.</summary>
    public static Number Value(Interval interval) => new(interval.Value, UnitOf(interval.Quantity), interval.Low, interval.High);

    /// <summary>The unit of a figure, by the end of its name.</summary>
    /// <param name="code">Its name in a file.</param>
    /// <param name="otherwise">The unit of a figure that has none in its name.</param>
    public static Unit UnitOf(string code, Unit otherwise = Unit.Contrast) => Shares.Contains(code)
        ? Unit.Share
        : Units.Where(each => code.EndsWith(each.Ending, StringComparison.Ordinal)).Select(each => each.Unit).FirstOrDefault(otherwise);
}
