using CardScan.Language;

namespace CardScan.Model;

/// <summary>Everything one cell was burned with.</summary>
public sealed record CellSettings : Extensible
{
    /// <summary>Percent of full power, 0 to 100.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmPerMin { get; init; }

    /// <summary>Passes.</summary>
    public int Passes { get; init; } = 1;

    /// <summary>Focus offset, mm, negative below the surface.</summary>
    public double FocusOffsetMm { get; init; }

    /// <summary>Line interval of the fill, mm; absent for cuts.</summary>
    public double? LineIntervalMm { get; init; }

    /// <summary>The value of one setting, in its unit; null for the line interval of a cut, and for what is printed.</summary>
    public double? ValueOf(Setting setting) => setting switch
    {
        Setting.PowerPercent => PowerPercent,
        Setting.SpeedMmPerMin => SpeedMmPerMin,
        Setting.Passes => Passes,
        Setting.FocusOffsetMm => FocusOffsetMm,
        Setting.LineIntervalMm => LineIntervalMm,
        _ => null,
    };

    /// <summary>Speed, power and passes, for a message.</summary>
    public SettingFigure ToFigure() => new(SpeedMmPerMin, PowerPercent, Passes);

    /// <summary>Speed, power and passes, and what else changes over the card, for a message.</summary>
    /// <param name="plan">The card's plan.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public SettingFigure ToFigure(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return ToFigure() with
        {
            LineIntervalMm = Varies(Setting.LineIntervalMm) ? LineIntervalMm : null,
            FocusOffsetMm = Varies(Setting.FocusOffsetMm) ? FocusOffsetMm : null,
        };

        bool Varies(Setting setting) => plan.Columns.Setting == setting || plan.Rows.Setting == setting;
    }

    /// <summary>Energy delivered at these settings: areal energy for a fill, line energy for a cut.</summary>
    /// <param name="process">Engrave (J/mm²) or cut (J/mm).</param>
    /// <param name="ratedOpticalWatts">Optical power at 100 %, watts.</param>
    /// <returns>The dose, or null where a fill has no line interval.</returns>
    /// <remarks>
    /// Line energy is power over speed, P / v; a fill spreads it over the line interval, P / (v · d). Both times the
    /// passes. Source: docs/method/goals.md, "Dose".
    /// </remarks>
    public Dose? DoseOf(Process process, double ratedOpticalWatts)
    {
        double wattsOptical = PowerPercent / 100 * ratedOpticalWatts;
        double joulesPerMm = wattsOptical * 60 / SpeedMmPerMin * Passes;
        return process == Process.Cut ? new(joulesPerMm, Dose.JoulesPerMm)
            : LineIntervalMm is double interval ? new(joulesPerMm / interval, Dose.JoulesPerMm2)
            : null;
    }
}

/// <summary>Energy delivered to the material.</summary>
/// <param name="Value">The energy in the unit named.</param>
/// <param name="Unit"><see cref="JoulesPerMm"/> or <see cref="JoulesPerMm2"/>.</param>
public sealed record Dose(double Value, string Unit) : Extensible
{
    /// <summary>Unit of a cut's line energy.</summary>
    public const string JoulesPerMm = "J/mm";

    /// <summary>Unit of a fill's areal energy.</summary>
    public const string JoulesPerMm2 = "J/mm2";

    /// <summary>
    /// A cut's line energy for each millimetre of thickness, J/mm per mm: a helper figure to compare thicknesses by. Null for a
    /// fill, and where the thickness is not given.
    /// </summary>
    /// <param name="thicknessMm">The material's thickness, mm.</param>
    public double? PerThickness(double? thicknessMm) => Unit == JoulesPerMm ? Value / thicknessMm : null;
}
