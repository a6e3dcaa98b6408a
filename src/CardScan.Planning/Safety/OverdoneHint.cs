using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Tells of cells that get far more energy than the material is expected to need: they cost time and only char.</summary>
internal static class OverdoneHint
{
    /// <summary>More than so many times the expected energy is burned in vain, unless the expectation itself is that unsure.</summary>
    private const double Overdone = 4;

    /// <summary>A first card's own speeds are rounded to two figures.</summary>
    private const double Rounded = 1.06;

    internal static Advice? Of(Plan plan, BurnEstimate estimate)
    {
        if (plan.Kind == CardKind.FocusLadder) return null;
        if (StartChooser.Expected(plan.Material, plan.Process, plan.Machine, plan.Start) is not { } need) return null;
        double most = Math.Max(Overdone, Rounded * StartingGrid.MostOver(need)) * need.Energy;
        Cell[] overdone = [.. plan.Cells.Where(cell => plan.DoseOf(plan.SettingsOf(cell))?.Value > most)];
        if (overdone.Length == 0) return null;

        HashSet<(int, int)> places = [.. overdone.Select(cell => (cell.Row, cell.Column))];
        double seconds = estimate.Cells.Where(cell => places.Contains((cell.Row, cell.Column))).Sum(cell => cell.Seconds);
        return new(Codes.CellsOverdone,
        [
            .. Limit(plan, most), ("cells", overdone.Length), ("material", plan.Material.Name),
            ("need", In(plan.Process == Process.Cut ? Unit.JPerMm : Unit.JPerMm2, Rounding.TwoFigures(need.Energy))),
            ("part", BurnEstimate.TimeOf(seconds)), ("time", estimate.Time),
        ]);
    }

    /// <summary>
    /// The speeds to leave out; the powers where every speed has such cells; or the speed from which there are none, where all
    /// cells are such.
    /// </summary>
    private static IEnumerable<(string, Figure)> Limit(Plan plan, double most)
    {
        (CellSettings Cell, double Dose)[] all =
            [.. plan.Cells.Select(plan.SettingsOf).Select(cell => (cell, plan.DoseOf(cell)?.Value ?? 0))];
        double[] speeds = [.. all.GroupBy(each => each.Cell.SpeedMmPerMin)
            .Where(speed => speed.All(each => each.Dose <= most)).Select(speed => speed.Key)];
        if (speeds.Length > 0) return [("setting", "speed"), ("limit", Speed(speeds.Min()))];
        double[] powers = [.. all.GroupBy(each => each.Cell.PowerPercent)
            .Where(power => power.All(each => each.Dose <= most)).Select(power => power.Key)];
        if (powers.Length > 0) return [("setting", "power"), ("limit", Power(powers.Max()))];
        double enough = all.Max(each => each.Cell.SpeedMmPerMin * each.Dose / most);
        return [("setting", "all"), ("limit", Speed(Rounding.TwoFigures(enough)))];
    }
}
