using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The width of the cut along one axis, over some open sides of a card; a held side's slit is no kerf yet.</summary>
/// <param name="Count">Sides it was measured on.</param>
/// <param name="MeanMm">Mean, mm.</param>
/// <param name="StandardErrorMm">
/// Standard error of the mean, mm: the sides' scatter and the error they share; null for fewer than three sides, whose
/// scatter says nothing.
/// </param>
/// <param name="LowestMm">Narrowest side, mm.</param>
/// <param name="HighestMm">Widest side, mm.</param>
internal sealed record KerfSummary(int Count, double MeanMm, double? StandardErrorMm, double LowestMm, double HighestMm)
{
    /// <summary>The kerf across x: of the left and right sides, whose cut is as wide along x as the beam is.</summary>
    public static KerfSummary? AcrossX(IEnumerable<CellReading> cells) => Of(cells, sides => [sides.Left, sides.Right]);

    /// <summary>The kerf across y: of the top and bottom sides.</summary>
    public static KerfSummary? AcrossY(IEnumerable<CellReading> cells) => Of(cells, sides => [sides.Top, sides.Bottom]);

    private static KerfSummary? Of(IEnumerable<CellReading> cells, Func<Sides, SideReading[]> of)
    {
        double[] widths =
        [
            .. cells.Where(cell => cell.Sides is not null).SelectMany(cell => of(cell.Sides!))
                .Where(side => side.State == SideState.Open).Select(side => side.KerfMm).OfType<double>(),
        ];
        if (widths.Length == 0) return null;
        double mean = widths.Average();
        double? error = widths.Length < 3 ? null : Math.Sqrt(
            widths.Sum(width => (width - mean) * (width - mean)) / (widths.Length - 1) / widths.Length
            + CardKerf.CommonErrorMm * CardKerf.CommonErrorMm);
        return new(widths.Length, mean, error, widths.Min(), widths.Max());
    }
}
