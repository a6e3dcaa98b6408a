using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Tells of a card that takes longer than anybody stays beside it, and what of it takes so long.</summary>
internal static class BurnTimeHint
{
    /// <param name="plan">A plan that says how it is burned.</param>
    /// <param name="estimate">What burning it takes.</param>
    internal static Advice? Of(Plan plan, BurnEstimate estimate)
    {
        if (!estimate.IsLong) return null;
        double marks = estimate.Seconds - estimate.Cells.Sum(cell => cell.Seconds);
        (double speed, int cells, double seconds) = SlowestCells(plan, estimate);
        if (estimate.WaitingSeconds > Math.Max(marks, seconds))
        {
            return new(Codes.CardLong, ("longest", "waiting"), ("time", estimate.Time),
                ("part", BurnEstimate.TimeOf(estimate.WaitingSeconds)), ("stops", estimate.HandStops));
        }

        return marks > seconds
            ? new(Codes.CardLong, ("longest", "marks"), ("time", estimate.Time), ("part", BurnEstimate.TimeOf(marks)),
                ("speed", Speed(plan.Burning!.Marks.SpeedMmPerMin)))
            : new(Codes.CardLong, [("longest", "cells"), ("time", estimate.Time), ("part", BurnEstimate.TimeOf(seconds)),
                ("speed", Speed(speed)), ("cells", cells), .. Smaller(plan)]);
    }

    /// <summary>The largest smaller cells that do not take long, and what the card takes then; nothing where there are none.</summary>
    private static IEnumerable<(string, Figure)> Smaller(Plan plan)
    {
        if (plan.Kind == CardKind.FocusLadder) return [];
        double now = plan.Cells[0].WidthMm;
        double least = plan.Process == Process.Cut ? CardPlanner.SmallestProposedCutMm : 0;
        return SmallerSides.Where(side => side < now && side >= least)
            .Select(side => (Side: side, Estimate: CardPlanner.Estimate(plan with { Cells = WithSides(plan.Cells, side / now) })))
            .Where(card => !card.Estimate.IsLong).Take(1)
            .SelectMany(card => ((string, Figure)[])[("cell", Mm(card.Side)), ("smaller", card.Estimate.Time)]);
    }

    /// <summary>Where they lie hardly matters to the time.</summary>
    private static ValueList<Cell> WithSides(IEnumerable<Cell> cells, double factor) =>
        cells.Select(cell => cell with { WidthMm = cell.WidthMm * factor, HeightMm = cell.HeightMm * factor, Tabs = null }).ToValueList();

    private static readonly double[] SmallerSides = [12, 10, 8, 6, 5, 4];

    /// <summary>The speed whose cells take longest together.</summary>
    private static (double SpeedMmPerMin, int Cells, double Seconds) SlowestCells(Plan plan, BurnEstimate estimate)
    {
        Dictionary<(int, int), double> speeds = plan.Cells.ToDictionary(
            cell => (cell.Row, cell.Column), cell => plan.SettingsOf(cell).SpeedMmPerMin);
        return estimate.Cells
            .GroupBy(cell => speeds[(cell.Row, cell.Column)])
            .Select(group => (group.Key, group.Count(), Seconds: group.Sum(cell => cell.Seconds)))
            .MaxBy(group => group.Seconds);
    }
}
