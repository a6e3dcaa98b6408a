using CardScan.Model;

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

    /// <summary>What keeps two cards from being scored as one: another process, unit, material, thickness, batch, machine or focus.</summary>
    /// <param name="reading">One reading.</param>
    /// <param name="other">The other.</param>
    /// <returns>The refusal, which names the field that differs and both values; null where they may be joined.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static Refusal? Obstacle(Reading reading, Reading other)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(other);
        if ((Ladder(reading) ?? Ladder(other)) is { } ladder) return Unlike(reading, other, $"card {ladder.Plan.Number} is a focus ladder, which has no grid of power and speed");
        return Likenesses(reading.Plan, other.Plan).Concat(SettingLikenesses(reading, other)).FirstOrDefault(likeness => !likeness.Holds) is { } unlike
            ? Unlike(reading, other, $"the {unlike.Field} of card {reading.Plan.Number} is {unlike.Value}, that of card {other.Plan.Number} {unlike.OtherValue}")
            : null;
    }

    private static Reading? Ladder(Reading reading) => reading.Plan.Kind == CardKind.FocusLadder ? reading : null;

    private static Refusal Unlike(Reading reading, Reading other, string difference) => Refusal.OfInput(
        "cards-unlike", $"card {reading.Plan.Number} and card {other.Plan.Number} cannot be scored together: {difference}",
        "score each alone, or, if they are alike, correct the plan and read the photos again");

    /// <summary>One thing that must be alike, with both values in words.</summary>
    private sealed record Likeness(string Field, bool Holds, string Value, string OtherValue);

    private static IEnumerable<Likeness> Likenesses(Plan plan, Plan other)
    {
        yield return new("process", plan.Process == other.Process, Word(plan.Process), Word(other.Process));
        yield return Named("material", plan.Material.Name, other.Material.Name);
        (double? thick, double? otherThick) = (plan.Material.ThicknessMm, other.Material.ThicknessMm);
        yield return new("thickness", AreSame(thick, otherThick, ThicknessToleranceMm), Number(thick, "mm"), Number(otherThick, "mm"));
        // A missing batch joins a missing one only: a delivery that is named may be another than one that is not.
        yield return Named("batch", plan.Material.Batch, other.Material.Batch);
        (Machine machine, Machine second) = (plan.Machine, other.Machine);
        yield return Named("machine", machine.Name, second.Name);
        (double watts, double otherWatts) = (machine.RatedOpticalWatts, second.RatedOpticalWatts);
        yield return new("rated optical power", AreSame(watts, otherWatts, Rounding * watts), Number(watts, "W"), Number(otherWatts, "W"));
        yield return new("beam mode", Mode(machine) == Mode(second), Word(Mode(machine)), Word(Mode(second)));
        // A profile that was completed later is the same machine's: what one plan does not tell contradicts nothing.
        yield return Told("wavelength", machine.WavelengthNm, second.WavelengthNm, "nm");
        yield return Told("width of the beam along x", machine.BeamXMm, second.BeamXMm, "mm");
        yield return Told("width of the beam along y", machine.BeamYMm, second.BeamYMm, "mm");
    }

    /// <summary>By what the cells were burned with, whoever wrote the reading: the plan's own words are not held against them.</summary>
    private static IEnumerable<Likeness> SettingLikenesses(Reading reading, Reading other)
    {
        yield return new("unit of the dose", Unit(reading) == Unit(other), Unit(reading), Unit(other));
        yield return Burned("focus offset", reading, other, cell => cell.FocusOffsetMm);
        if (reading.Plan.Process == Process.Engrave) yield return Burned("line interval", reading, other, cell => cell.LineIntervalMm);
    }

    private static Likeness Named(string field, string? name, string? other) =>
        new(field, string.Equals(Trimmed(name), Trimmed(other), StringComparison.OrdinalIgnoreCase), Quoted(name), Quoted(other));

    private static Likeness Told(string field, double? value, double? other, string unit) =>
        new(field, value is not { } known || other is not { } second || AreSame(known, second, Rounding * known), Number(value, unit), Number(other, unit));

    /// <summary>A setting that is one and the same in all cells of both cards, or an axis of both.</summary>
    private static Likeness Burned(string field, Reading reading, Reading other, Func<CellSettings, double?> of)
    {
        double?[] values = Values(reading), others = Values(other);
        bool holds = values.Length == 0 || others.Length == 0 || (values.Length > 1 && others.Length > 1) || (values.Length == 1 && others.Length == 1 && AreSame(values[0], others[0], Rounding));
        return new(field, holds, Words(values), Words(others));

        double?[] Values(Reading each) => [.. each.Cells.Select(cell => of(cell.Settings) is { } mm ? Math.Round(mm, 6) : default(double?)).Distinct()];

        static string Words(double?[] values) => values is [var only] ? Number(only, "mm") : "an axis";
    }

    private static string Unit(Reading reading)
    {
        string[] units = [.. reading.Cells.Select(cell => (cell.Dose ?? reading.Plan.DoseOf(cell.Settings))?.Unit).OfType<string>().Distinct().Order(StringComparer.Ordinal)];
        return units.Length == 0 ? "not known" : string.Join(" and ", units);
    }

    private static bool AreSame(double? value, double? other, double tolerance) => value is { } known && other is { } second ? Math.Abs(known - second) <= tolerance : value is null && other is null;

    private static BeamMode Mode(Machine machine) => machine.BeamMode ?? BeamMode.Constant;

    private static string Word(Process process) => process == Process.Cut ? "cut" : "engrave";

    private static string Word(BeamMode mode) => mode == BeamMode.FollowsSpeed ? "followsSpeed" : "constant";

    private static string Trimmed(string? name) => name?.Trim() ?? "";

    private static string Quoted(string? name) => Trimmed(name) is { Length: > 0 } known ? $"\"{known}\"" : NotGiven;

    private static string Number(double? value, string unit) => value is { } known ? $"{known:0.####} {unit}" : NotGiven;

    private const string NotGiven = "not given";
}
