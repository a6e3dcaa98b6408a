using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What markers and labels are burned with.</summary>
internal static class MarkChoice
{
    /// <summary>Areal dose that marks wood clearly without charring deep, J/mm² (common practice, no source).</summary>
    internal const double UsualDoseJPerMm2 = 2;

    /// <summary>Speed of marks where the machine's fastest feed does not ask for less, mm/min.</summary>
    private const double UsualSpeedMmPerMin = 2400;

    /// <summary>More of the diode than this is not needed for marks, percent.</summary>
    private const double UsualPowerPercent = 80;

    /// <summary>
    /// The setting that was asked for or that the material is known to take; else the middle of an engraved grid, which its
    /// maker expects to mark; else the usual dose.
    /// </summary>
    internal static MarkSetting For(PlanRequest request, GridSettings grid)
    {
        if ((request.Mark ?? request.Material.Mark) is { } given)
            return given with { LineIntervalMm = given.LineIntervalMm ?? CardPlanner.UsualLineIntervalMm };
        return request is { Process: Process.Engrave, Kind: CardKind.Grid } ? Middle(grid) : OfUsualDose(request.Machine);
    }

    private static MarkSetting Middle(GridSettings grid) => new()
    {
        PowerPercent = Middle(grid, Setting.PowerPercent, grid.Fixed.PowerPercent),
        SpeedMmPerMin = Middle(grid, Setting.SpeedMmPerMin, grid.Fixed.SpeedMmPerMin),
        LineIntervalMm = Middle(grid, Setting.LineIntervalMm, grid.Fixed.LineIntervalMm),
    };

    private static double Middle(GridSettings grid, Setting setting, double? otherwise)
    {
        Axis? axis = grid.Columns.Setting == setting ? grid.Columns : grid.Rows.Setting == setting ? grid.Rows : null;
        return axis is null ? otherwise!.Value : axis.Values[axis.Values.Count / 2];
    }

    private static MarkSetting OfUsualDose(Machine machine)
    {
        double speed = Math.Min(UsualSpeedMmPerMin, machine.FastestFeedMmPerMin ?? UsualSpeedMmPerMin);
        double wattsNeeded = UsualDoseJPerMm2 * CardPlanner.UsualLineIntervalMm * speed / 60;
        double power = 100 * wattsNeeded / machine.RatedOpticalWatts;
        if (power > UsualPowerPercent) (power, speed) = (UsualPowerPercent, speed * UsualPowerPercent / power);
        // A tenth of a percent and a whole mm/min are finer than the rule; a weak machine marks fainter rather than crawl.
        return new()
        {
            PowerPercent = Math.Max(0.1, Math.Round(power, 1)),
            SpeedMmPerMin = Math.Max(MachineLimits.SlowestMmPerMin, Math.Round(speed)),
            LineIntervalMm = CardPlanner.UsualLineIntervalMm,
        };
    }
}
