using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Focus;

/// <summary>What a focus ladder tells besides its figures.</summary>
internal static class LadderMessages
{
    /// <summary>Powers that a line's width must be known at to tell the beam from its energy.</summary>
    private const int FewestPowers = 3;

    public static Advice FewWidths(string axis, int offsets) =>
        new(Codes.FocusFewWidths, ("axis", axis), ("offsets", offsets), ("least", FocusFit.FewestOffsets));

    public static Advice Misfit(string axis) => new(Codes.FocusMisfit, ("axis", axis));

    public static Advice Flat(string axis, FocusFit fit) => new(Codes.FocusFlat,
        [("axis", axis), ("lowest", Mm(fit.LowestMm)), ("highest", Mm(fit.HighestMm)), .. Range(Middle(fit), Extent(fit))]);

    /// <summary>Where to burn next: about the best estimate where it has an interval, else a whole ladder further on.</summary>
    public static Advice AtEnd(string axis, FocusFit fit, double low, double high)
    {
        bool isAbove = high >= fit.HighestMm && !(low <= fit.LowestMm && fit.Best.Shape.BestMm < Middle(fit));
        double end = isAbove ? fit.HighestMm : fit.LowestMm;
        double best = double.IsInfinity(low) || double.IsInfinity(high)
            ? end
            : Math.Clamp(fit.Best.Shape.BestMm, fit.LowestMm - Extent(fit), fit.HighestMm + Extent(fit));
        return new(Codes.FocusAtEnd,
            [("axis", axis), ("end", isAbove ? "upper" : "lower"), ("limit", Mm(end)), .. Range(best, Extent(fit) / 2)]);
    }

    public static Advice AxesApart(Interval x, Interval y) => new(Codes.FocusAxesApart, ("x", Mm(x.Value)), ("y", Mm(y.Value)));

    public static Advice BeamUnknown(Reading reading) =>
        new(Codes.FocusBeamUnknown, ("few", Is(reading.Cells.Select(cell => cell.Dose?.Value).Distinct().Count() < FewestPowers)));

    /// <summary>Cells whose lines could not be measured.</summary>
    public static IEnumerable<Advice> OfLines(IReadOnlyCollection<CellReading> cells)
    {
        int unresolved = Flagged(CellFlag.LinesUnresolved), unseen = Flagged(CellFlag.LinesUnseen);
        if (unresolved > 0) yield return new(Codes.LinesUnresolved, ("lines", unresolved), ("cells", cells.Count));
        if (unseen > 0) yield return new(Codes.LinesUnseen, ("lines", unseen), ("cells", cells.Count));

        int Flagged(string flag) => cells.Count(cell => cell.Flags.Contains(flag));
    }

    private static double Middle(FocusFit fit) => (fit.LowestMm + fit.HighestMm) / 2;

    private static double Extent(FocusFit fit) => fit.HighestMm - fit.LowestMm;

    /// <summary>Ends of a ladder to burn, in tenths: finer than any focus is set.</summary>
    private static IEnumerable<(string, Figure)> Range(double middle, double reach) =>
        [("from", Mm(Math.Round(middle - reach, 1))), ("to", Mm(Math.Round(middle + reach, 1)))];
}
