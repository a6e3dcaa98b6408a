using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How much bare material lies between the cells of a plan: the room that marks and labels have.</summary>
/// <param name="GapXMm">Smallest gap between neighbours of a row, mm.</param>
/// <param name="GapYMm">Smallest gap below a cell: to the next cell, marker or the card's edge, mm.</param>
/// <param name="PitchMm">Smallest cell width plus gap, mm: what a label may be wide.</param>
/// <param name="ShowsSides">True where every side gets a mark of its own.</param>
internal sealed record CardSpacing(double GapXMm, double GapYMm, double PitchMm, bool ShowsSides)
{
    /// <summary>Gaps are never counted wider than this; more is not needed, mm.</summary>
    private const double MostMm = 12;

    /// <summary>Distance of a cell's outline from its edge: near, but clear of the edge itself, mm.</summary>
    public double OutlineMm => Math.Min(0.35, 0.12 * SmallestGapMm);

    /// <summary>Thickness of a cell's outline, mm.</summary>
    public double LineMm => Math.Clamp(0.05 * SmallestGapMm, 0.06, 0.2);

    /// <summary>Distance of a cut side's mark from the cutting line: past half the kerf and its char, mm.</summary>
    public double SideMm => Math.Min(0.85, 0.15 * SmallestGapMm);

    /// <summary>Thickness of a cut side's mark, mm.</summary>
    public double SideUnitMm => Math.Clamp(0.065 * SmallestGapMm, 0.1, 0.4);

    /// <summary>Distance of the bracket around a recommended cell, mm.</summary>
    public double BracketMm => Math.Min(1.1, 0.18 * SmallestGapMm) + (ShowsSides ? SideMm : 0);

    /// <summary>Thickness of the bracket, mm.</summary>
    public double BracketLineMm => Math.Clamp(0.08 * SmallestGapMm, 0.2, 0.5);

    /// <summary>How far the marks around a cell reach, mm.</summary>
    public double ReachMm(bool isRecommended) => isRecommended ? BracketMm + BracketLineMm
        : ShowsSides ? SideMm + 1.3 * SideUnitMm
        : OutlineMm + 2 * LineMm;

    private double SmallestGapMm => Math.Min(GapXMm, GapYMm);

    public static CardSpacing Of(Reading reading)
    {
        Plan plan = reading.Plan;
        (double gapX, double gapY, double pitch) = (MostMm, MostMm, double.PositiveInfinity);
        foreach (Cell cell in plan.Cells)
        {
            double right = MostMm;
            double below = Math.Min(MostMm, plan.Card.HeightMm - cell.YMm - cell.HeightMm);
            foreach (Cell other in plan.Cells)
            {
                if (ReferenceEquals(cell, other)) continue;
                if (SpansMeet(cell.YMm, cell.HeightMm, other.YMm, other.HeightMm))
                    right = Nearer(right, other.XMm - cell.XMm - cell.WidthMm);
                if (SpansMeet(cell.XMm, cell.WidthMm, other.XMm, other.WidthMm))
                    below = Nearer(below, other.YMm - cell.YMm - cell.HeightMm);
            }

            foreach (Marker marker in plan.Fiducials.Markers)
            {
                if (SpansMeet(cell.XMm, cell.WidthMm, marker.XMm, plan.Fiducials.SideMm))
                    below = Nearer(below, marker.YMm - cell.YMm - cell.HeightMm);
            }

            (gapX, gapY) = (Math.Min(gapX, right), Math.Min(gapY, below));
            pitch = Math.Min(pitch, cell.WidthMm + right);
        }

        return new(gapX, gapY, pitch, reading.Cells.Any(cell => cell.Sides is not null));
    }

    // Cells may touch within rounding, hence the hair's breadth below zero.
    private static double Nearer(double nearest, double gap) => gap >= -1e-6 ? Math.Clamp(gap, 0, nearest) : nearest;

    private static bool SpansMeet(double a, double aSize, double b, double bSize) => a < b + bSize && b < a + aSize;
}
