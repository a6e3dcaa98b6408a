using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring;

/// <summary>Whether cards may be scored together.</summary>
/// <remarks>
/// What enters the dose (power, speed, passes, a line interval that is an axis) may differ from card to card: that is
/// what several cards are burned for. What changes the material's answer to a dose may not. See docs/method/goals.md,
/// "Several cards".
/// </remarks>
public static class CardJoin
{
    /// <summary>Thicknesses that differ by less are the same sheet's, mm; as the archive looks them up.</summary>
    private const double ThicknessToleranceMm = 0.005;

    /// <summary>Numbers that people type once in millimetres and once as a quotient differ by less, relative.</summary>
    private const double Rounding = 1e-6;

    /// <summary>
    /// What keeps two cards from being scored as one: another process, unit, material, thickness, batch, machine or focus.
    /// </summary>
    /// <param name="reading">One reading.</param>
    /// <param name="other">The other.</param>
    /// <returns>The refusal, which names the field that differs and both values; null where they may be joined.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static Refusal? Obstacle(Reading reading, Reading other)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(other);
        if ((GridLess(reading) ?? GridLess(other)) is { Plan: { } without })
            return Unlike(reading, other, ("gridless", without.Number), ("kind", without.IsPrinted ? "strip" : "ladder"));
        return Likenesses(reading.Plan, other.Plan).Concat(SettingLikenesses(reading, other))
            .FirstOrDefault(likeness => !likeness.Holds) is { } unlike
            ? Unlike(reading, other, ("field", unlike.Field), ("value", unlike.Value), ("second-value", unlike.SecondValue))
            : null;
    }

    private static Reading? GridLess(Reading reading) => reading.Plan.Kind is CardKind.FocusLadder or CardKind.GreyStrip ? reading : null;

    private static Refusal Unlike(Reading reading, Reading other, params IEnumerable<(string, Figure)> difference) =>
        Refusal.OfInput(Codes.CardsUnlike, [("card", reading.Plan.Number), ("second", other.Plan.Number), .. difference]);

    /// <summary>One thing that must be alike, with both values.</summary>
    /// <param name="Field">Which: a branch of the sentence.</param>
    /// <param name="Holds">False where the two are not alike.</param>
    /// <param name="Value">The value of the one.</param>
    /// <param name="SecondValue">The value of the other.</param>
    private sealed record Likeness(string Field, bool Holds, Figure Value, Figure SecondValue);

    private static IEnumerable<Likeness> Likenesses(Plan plan, Plan other)
    {
        yield return new("process", plan.Process == other.Process, NameOf(plan.Process), NameOf(other.Process));
        yield return Named("material", plan.Material.Name, other.Material.Name);
        (double? thick, double? otherThick) = (plan.Material.ThicknessMm, other.Material.ThicknessMm);
        yield return new("thickness", AreSame(thick, otherThick, ThicknessToleranceMm), Given(thick, Unit.Mm), Given(otherThick, Unit.Mm));
        // A missing batch joins a missing one only: a delivery that is named may be another than one that is not.
        yield return Named("batch", plan.Material.Batch, other.Material.Batch);
        (Machine machine, Machine second) = (plan.Machine, other.Machine);
        yield return Named("machine", machine.Name, second.Name);
        (double watts, double otherWatts) = (machine.RatedOpticalWatts, second.RatedOpticalWatts);
        yield return new("watts", AreSame(watts, otherWatts, Rounding * watts), Given(watts, Unit.Watts), Given(otherWatts, Unit.Watts));
        yield return new("beam-mode", Mode(machine) == Mode(second), NameOf(Mode(machine)), NameOf(Mode(second)));
        // A profile that was completed later is the same machine's: what one plan does not tell contradicts nothing.
        yield return Told("wavelength", machine.WavelengthNm, second.WavelengthNm, Unit.Nm);
        yield return Told("beam-x", machine.BeamXMm, second.BeamXMm, Unit.Mm);
        yield return Told("beam-y", machine.BeamYMm, second.BeamYMm, Unit.Mm);
        yield return Air(plan.Fixed.AirAssist, other.Fixed.AirAssist);
        yield return Rest("focus-step", plan.Fixed.FocusStepMm, other.Fixed.FocusStepMm, Unit.Mm);
        yield return Rest("pass-pause", plan.Fixed.PassPauseS, other.Fixed.PassPauseS, Unit.Seconds);
    }

    /// <summary>By what the cells were burned with, whoever wrote the reading: the plan's own words are not held against them.</summary>
    private static IEnumerable<Likeness> SettingLikenesses(Reading reading, Reading other)
    {
        (string[] units, string[] otherUnits) = (UnitsOf(reading), UnitsOf(other));
        yield return new("energy-unit", units.SequenceEqual(otherUnits), NameOf(units), NameOf(otherUnits));
        yield return Burned("focus", reading, other, cell => cell.FocusOffsetMm);
        if (reading.Plan.Process == Process.Engrave) yield return Burned("line-interval", reading, other, cell => cell.LineIntervalMm);
    }

    private static Likeness Named(string field, string? name, string? other) =>
        new(field, MakerName.AreSame(name, other), Quoted(name), Quoted(other));

    private static Likeness Told(string field, double? value, double? other, Unit unit)
    {
        bool holds = value is not { } known || other is not { } second || AreSame(known, second, Rounding * known);
        return new(field, holds, Given(value, unit), Given(other, unit));
    }

    /// <summary>A plan that does not tell of air contradicts nothing, and neither does one that leaves the pressure out.</summary>
    private static Likeness Air(AirAssist? air, AirAssist? other)
    {
        bool isAsHard = air?.Pressure is not { } pressure || other?.Pressure is not { } second
            || MakerName.AreSame(pressure, second);
        bool holds = air is null || other is null || (air.IsOn == other.IsOn && isAsHard);
        return new("air", holds, air?.ToFigure() ?? NotGiven, other?.ToFigure() ?? NotGiven);
    }

    /// <summary>A setting that is 0 where it is not given.</summary>
    private static Likeness Rest(string field, double? value, double? other, Unit unit) =>
        new(field, AreSame(value ?? 0, other ?? 0, Rounding), In(unit, value ?? 0), In(unit, other ?? 0));

    /// <summary>A setting that is one and the same in all cells of both cards, or an axis of both.</summary>
    private static Likeness Burned(string field, Reading reading, Reading other, Func<CellSettings, double?> of)
    {
        double?[] values = Values(reading), others = Values(other);
        bool holds = values.Length == 0 || others.Length == 0 || (values.Length > 1 && others.Length > 1)
            || (values.Length == 1 && others.Length == 1 && AreSame(values[0], others[0], Rounding));
        return new(field, holds, ToldAs(values), ToldAs(others));

        double?[] Values(Reading each) =>
            [.. each.Cells.Select(cell => of(cell.Settings) is { } mm ? Math.Round(mm, 6) : default(double?)).Distinct()];

        static Figure ToldAs(double?[] values) => values is [var only] ? Given(only, Unit.Mm) : new Phrase("name.an-axis");
    }

    private static string[] UnitsOf(Reading reading) =>
    [
        .. reading.Cells.Select(cell => (cell.Dose ?? reading.Plan.DoseOf(cell.Settings))?.Unit).OfType<string>()
            .Distinct().Order(StringComparer.Ordinal),
    ];

    private static bool AreSame(double? value, double? other, double tolerance) =>
        value is { } known && other is { } second ? Math.Abs(known - second) <= tolerance : value is null && other is null;

    private static BeamMode Mode(Machine machine) => machine.BeamMode ?? BeamMode.Constant;

    private static Phrase NameOf(Process process) => new("name.process", ("process", EnumName.Of(process)));

    private static Phrase NameOf(BeamMode mode) =>
        new("name.beam-mode", ("mode", mode switch
        {
            BeamMode.Constant => "constant", BeamMode.FromRest => "from-rest", _ => "follows-speed",
        }));

    private static Figure NameOf(string[] units) => units.Length == 0 ? new Phrase("name.not-known") : List(units);

    private static Phrase Quoted(string? name) =>
        name?.Trim() is { Length: > 0 } known ? new("name.quoted", ("text", known)) : NotGiven;

    private static Figure Given(double? value, Unit unit) => value is { } known ? In(unit, known) : NotGiven;

    private static Phrase NotGiven => new("name.not-given");
}
