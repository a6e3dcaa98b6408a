using System.Globalization;
using CardScan.Model;

namespace CardScan.Scoring.Focus;

/// <summary>What a focus ladder tells besides its figures.</summary>
internal static class FocusWords
{
    public static Advice FewWidths(string axis, int offsets) => new("focus-few-widths",
        $"Across {axis} the widths of lines could be measured at {offsets} focus offset{(offsets == 1 ? "" : "s")}, and at least {FocusFit.FewestOffsets} are needed. {(offsets == 0 ? "Photograph the card closer and sharper; if no line shows, burn the ladder with more power or more slowly." : "Photograph the card closer and sharper, or burn a ladder with more offsets.")}");

    public static Advice Misfit(string axis) => new("focus-misfit",
        $"Across {axis} the widths of the lines do not follow those of a beam about its focus, so no best offset is told. Lines burned with too little energy vanish away from the focus instead of growing wide: burn the ladder with two or three powers, the lowest of them higher.");

    public static Advice Flat(string axis, FocusFit fit) => new("focus-flat",
        $"Across {axis} the widths hardly change from {Mm(fit.LowestMm)} to {Mm(fit.HighestMm)} mm, so they do not tell where the focus is. Burn a ladder over a wider range, for instance {Range(Middle(fit) - Extent(fit), Middle(fit) + Extent(fit))}.");

    /// <summary>Where to burn next: about the best estimate where it has an interval, else a whole ladder further on.</summary>
    public static Advice AtEnd(string axis, FocusFit fit, double low, double high)
    {
        bool isAbove = high >= fit.HighestMm && !(low <= fit.LowestMm && fit.Best.Shape.BestMm < Middle(fit));
        double end = isAbove ? fit.HighestMm : fit.LowestMm;
        double best = double.IsInfinity(low) || double.IsInfinity(high) ? end : Math.Clamp(fit.Best.Shape.BestMm, fit.LowestMm - Extent(fit), fit.HighestMm + Extent(fit));
        return new("focus-at-end",
            $"Across {axis} the best focus may lie at or beyond the {(isAbove ? "upper" : "lower")} end of the ladder, {Mm(end)} mm. Burn the next one around it: {Range(best - Extent(fit) / 2, best + Extent(fit) / 2)}.");
    }

    public static Advice AxesApart(Interval x, Interval y) => new("focus-axes-apart",
        $"The beam is narrowest across x at {Mm(x.Value)} mm and across y at {Mm(y.Value)} mm: its two axes do not focus at the same height, as is common with diodes. The offset between them is a compromise; for lines that run one way only, take that of the width that matters.");

    public static Advice BeamUnknown(Reading reading) => new("focus-beam-unknown",
        reading.Cells.Select(cell => cell.Dose?.Value).Distinct().Count() < 3
            ? "The size of the beam is not told: a line's width hangs on its energy too. Burn the ladder with three or more powers, for instance --power 30,50,80."
            : "The size of the beam is not told: the widths leave it open by too much. A closer and sharper photo, or powers further apart, would tell it.");

    /// <summary>Cells whose lines could not be measured.</summary>
    public static IEnumerable<Advice> OfLines(IEnumerable<CellReading> cells)
    {
        CellReading[] all = [.. cells];
        int unresolved = all.Count(cell => cell.Flags.Contains(CellFlag.LinesUnresolved)), unseen = all.Count(cell => cell.Flags.Contains(CellFlag.LinesUnseen));
        if (unresolved > 0)
            yield return new("lines-unresolved", $"In {unresolved} of {all.Length} cells some lines are too narrow for the photo, and their width is not told. Go closer, in sharp focus, with several photos of parts of the card if need be.");
        if (unseen > 0)
            yield return new("lines-unseen", $"In {unseen} of {all.Length} cells some lines cannot be told from bare material and are left out: too little energy, most likely.");
    }

    private static double Middle(FocusFit fit) => (fit.LowestMm + fit.HighestMm) / 2;

    private static double Extent(FocusFit fit) => fit.HighestMm - fit.LowestMm;

    private static string Range(double from, double to) => $"--focus-offset={Mm(from)}:{Mm(to)}:9";

    /// <summary>Tenths: finer than any focus is set.</summary>
    private static string Mm(double mm) => (Math.Round(mm, 1) + 0.0).ToString("0.#", CultureInfo.InvariantCulture);
}
