namespace CardScan.Model;

/// <summary>What a machine must obey beyond the kinds of its fields.</summary>
public static class MachineRules
{
    /// <summary>Every fault, as the field's name, what was found and what was expected.</summary>
    public static IEnumerable<string> Faults(Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        return ((IEnumerable<string?>)
        [
            machine.RatedOpticalWatts > 0 ? null : $"ratedOpticalWatts is {machine.RatedOpticalWatts}: expected more than 0 W optical",
            Range("wavelengthNm", machine.WavelengthNm, 150, 12_000, "nm"),
            Range("workArea.widthMm", machine.WorkArea?.WidthMm, 20, 10_000, "mm"),
            Range("workArea.heightMm", machine.WorkArea?.HeightMm, 20, 10_000, "mm"),
            Range("fastestFeedMmPerMin", machine.FastestFeedMmPerMin, 1, 1_000_000, "mm/min"),
            Range("fullPowerS", machine.FullPowerS, 1, 1_000_000, "S"),
            Range("beamXMm", machine.BeamXMm, 0.001, 5, "mm"),
            Range("beamYMm", machine.BeamYMm, 0.001, 5, "mm"),
            Range("accelerationMmPerS2", machine.AccelerationMmPerS2, 1, 1_000_000, "mm/s²"),
            Range("poweredZ.lowestMm", machine.PoweredZ?.LowestMm, -500, 0, "mm"),
            Range("poweredZ.highestMm", machine.PoweredZ?.HighestMm, 0, 500, "mm"),
        ]).OfType<string>();
    }

    private static string? Range(string field, double? value, double least, double most, string unit) =>
        value is not { } number || (number >= least && number <= most) ? null : $"{field} is {number}: expected {least} to {most} {unit}";
}

/// <summary>What a material must obey beyond the kinds of its fields.</summary>
public static class MaterialRules
{
    /// <summary>Every fault, as the field's name, what was found and what was expected.</summary>
    public static IEnumerable<string> Faults(Material material)
    {
        ArgumentNullException.ThrowIfNull(material);
        if (material.ThicknessMm is { } mm && !(mm > 0)) yield return $"thicknessMm is {mm}: expected more than 0 mm";
        foreach (string fault in MarkFaults(material.Mark)) yield return $"mark.{fault}";
    }

    /// <summary>Faults of a marking setting; none where there is no setting.</summary>
    internal static IEnumerable<string> MarkFaults(MarkSetting? mark) => mark is null ? [] : ((IEnumerable<string?>)
    [
        Fault("powerPercent", Setting.PowerPercent, mark.PowerPercent),
        Fault("speedMmPerMin", Setting.SpeedMmPerMin, mark.SpeedMmPerMin),
        mark.LineIntervalMm is { } interval ? Fault("lineIntervalMm", Setting.LineIntervalMm, interval) : null,
    ]).OfType<string>();

    private static string? Fault(string field, Setting setting, double value) =>
        PlanRules.RangeFault(setting, value) is { } expected ? $"{field} is {value}: expected {expected}" : null;
}
