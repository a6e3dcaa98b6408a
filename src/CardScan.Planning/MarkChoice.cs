using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>What markers and labels are burned with: strong enough to be found in a photo, or the plan is refused.</summary>
internal static class MarkChoice
{
    /// <summary>Areal dose that marks wood clearly without charring deep, J/mm² (common practice, no source).</summary>
    internal const double UsualDoseJPerMm2 = 2;

    /// <summary>How unsure that dose is for a material of no known kind: one standard deviation, as a factor (chosen here).</summary>
    private const double UsualFactor = 2.6;

    /// <summary>
    /// A grid whose middle brings more than so many times the expected energy would char the markers, and burn them for hours.
    /// </summary>
    private const double MostOfNeed = 4;

    /// <summary>
    /// Lines farther apart leave gaps of the order of a marker's module, 1.25 mm and less, and the photo is refused, mm (rendered
    /// photos: 0.3 mm are not read).
    /// </summary>
    internal const double WidestIntervalMm = 0.2;

    /// <summary>Speed of marks where the machine's fastest feed does not ask for less, mm/min.</summary>
    private const double UsualSpeedMmPerMin = 2400;

    /// <summary>More of the diode than this is not needed for marks, percent.</summary>
    private const double UsualPowerPercent = 80;

    /// <summary>
    /// The setting that was asked for or that the material is known to take; else the middle of an engraved grid, which its
    /// maker expects to mark, unless that is far from what the material is expected to need; else the energy that it needs.
    /// </summary>
    /// <returns>The setting; or why the markers would not be found.</returns>
    internal static Outcome<MarkSetting> For(PlanRequest request, GridSettings grid)
    {
        (double need, double factor) = NeedOf(request);
        if ((request.Mark ?? request.Material.Mark) is { } given)
        {
            MarkSetting asked = given with { LineIntervalMm = given.LineIntervalMm ?? CardPlanner.UsualLineIntervalMm };
            return FaultOf(asked, need / factor, request.Machine) is { } fault ? fault : asked;
        }

        if (request is not { Process: Process.Engrave, Kind: CardKind.Grid }) return OfDose(need, request.Machine);
        MarkSetting middle = Middle(grid, request.Machine);
        double dose = DoseOf(middle, request.Machine);
        return dose >= need && dose <= MostOfNeed * need ? middle : OfDose(need, request.Machine);
    }

    /// <summary>The energy that gives the material a clear mark, J/mm², and one standard deviation of it, as a factor.</summary>
    private static (double JPerMm2, double Factor) NeedOf(PlanRequest request) =>
        StartChooser.Expected(request.Material, Process.Engrave, request.Machine, request.Process == Process.Engrave ? request.Start : null)
            is { } known ? (known.Energy, known.Factor) : (UsualDoseJPerMm2, UsualFactor);

    private static Refusal? FaultOf(MarkSetting mark, double leastJPerMm2, Machine machine)
    {
        if (mark.LineIntervalMm > WidestIntervalMm)
        {
            return RequestCheck.Fault("mark-lines",
                ("interval", Mm(mark.LineIntervalMm.Value)), ("most", Mm(WidestIntervalMm)));
        }

        double found = DoseOf(mark, machine);
        return found >= leastJPerMm2 ? null : RequestCheck.Fault("mark-faint",
            ("found", In(Language.Unit.JPerMm2, found)), ("least", In(Language.Unit.JPerMm2, leastJPerMm2)));
    }

    private static double DoseOf(MarkSetting mark, Machine machine) =>
        machine.RatedOpticalWatts * mark.PowerPercent / 100 * 60 / (mark.SpeedMmPerMin * mark.LineIntervalMm!.Value);

    /// <summary>The middle of the grid; its lines as far apart as a marker's may be, with the speed that keeps the energy.</summary>
    private static MarkSetting Middle(GridSettings grid, Machine machine)
    {
        double interval = Middle(grid, Setting.LineIntervalMm, grid.Fixed.LineIntervalMm);
        double speed = Middle(grid, Setting.SpeedMmPerMin, grid.Fixed.SpeedMmPerMin);
        double fastest = machine.FastestFeedMmPerMin ?? double.PositiveInfinity;
        double kept = Math.Round(speed * interval / CardPlanner.UsualLineIntervalMm);
        return new()
        {
            PowerPercent = Middle(grid, Setting.PowerPercent, grid.Fixed.PowerPercent),
            SpeedMmPerMin = interval == CardPlanner.UsualLineIntervalMm ? speed
                : Math.Clamp(kept, Math.Min(MachineLimits.SlowestMmPerMin, fastest), fastest),
            LineIntervalMm = CardPlanner.UsualLineIntervalMm,
        };
    }

    private static double Middle(GridSettings grid, Setting setting, double? otherwise)
    {
        Axis? axis = grid.Columns.Setting == setting ? grid.Columns : grid.Rows.Setting == setting ? grid.Rows : null;
        return axis is null ? otherwise!.Value : axis.Values[axis.Values.Count / 2];
    }

    private static MarkSetting OfDose(double jPerMm2, Machine machine)
    {
        double speed = Math.Min(UsualSpeedMmPerMin, machine.FastestFeedMmPerMin ?? UsualSpeedMmPerMin);
        double wattsNeeded = jPerMm2 * CardPlanner.UsualLineIntervalMm * speed / 60;
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
