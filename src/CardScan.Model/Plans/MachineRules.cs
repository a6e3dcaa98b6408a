using CardScan.Language;

namespace CardScan.Model;

/// <summary>What a machine must obey beyond the kinds of its fields.</summary>
public static class MachineRules
{
    /// <summary>Every fault, its path beginning inside the machine.</summary>
    public static IEnumerable<FieldFault> Check(Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        return ((IEnumerable<FieldFault?>)
        [
            machine.RatedOpticalWatts > 0 ? null : FieldFault.Of("ratedOpticalWatts", machine.RatedOpticalWatts, OpticalWatts),
            Range("wavelengthNm", machine.WavelengthNm, 150, 12_000, Unit.Nm),
            Range("workArea.widthMm", machine.WorkArea?.WidthMm, 20, 10_000, Unit.Mm),
            Range("workArea.heightMm", machine.WorkArea?.HeightMm, 20, 10_000, Unit.Mm),
            Range("fastestFeedMmPerMin", machine.FastestFeedMmPerMin, 1, 1_000_000, Unit.MmPerMin),
            Range("fullPowerS", machine.FullPowerS, 1, 1_000_000, Unit.None),
            Range("beamXMm", machine.BeamXMm, 0.001, 5, Unit.Mm),
            Range("beamYMm", machine.BeamYMm, 0.001, 5, Unit.Mm),
            Range("accelerationMmPerS2", machine.AccelerationMmPerS2, 1, 1_000_000, Unit.None),
            Range("poweredZ.lowestMm", machine.PoweredZ?.LowestMm, -500, 0, Unit.Mm),
            Range("poweredZ.highestMm", machine.PoweredZ?.HighestMm, 0, 500, Unit.Mm),
        ]).OfType<FieldFault>();
    }

    private static Phrase OpticalWatts { get; } = new("rule.optical-watts", ("least", Figures.In(Unit.Watts, 0)));

    private static FieldFault? Range(string field, double? value, double least, double most, Unit unit) =>
        value is not { } number || (number >= least && number <= most)
            ? null
            : FieldFault.Of(field, number, Expected.Between(least, most, unit));
}

/// <summary>What a material must obey beyond the kinds of its fields.</summary>
public static class MaterialRules
{
    /// <summary>Every fault, its path beginning inside the material.</summary>
    public static IEnumerable<FieldFault> Check(Material material)
    {
        ArgumentNullException.ThrowIfNull(material);
        if (material.ThicknessMm is { } mm && !(mm > 0)) yield return FieldFault.Of("thicknessMm", mm, Expected.Positive(Unit.Mm));
        foreach (FieldFault fault in MarkFaults(material.Mark)) yield return fault.Under("mark");
    }

    /// <summary>Faults of a marking setting; none where there is no setting.</summary>
    internal static IEnumerable<FieldFault> MarkFaults(MarkSetting? mark) => mark is null ? [] : ((IEnumerable<FieldFault?>)
    [
        Fault("powerPercent", Setting.PowerPercent, mark.PowerPercent),
        Fault("speedMmPerMin", Setting.SpeedMmPerMin, mark.SpeedMmPerMin),
        mark.LineIntervalMm is { } interval ? Fault("lineIntervalMm", Setting.LineIntervalMm, interval) : null,
    ]).OfType<FieldFault>();

    private static FieldFault? Fault(string field, Setting setting, double value) =>
        PlanRules.ExpectedOf(setting, value) is { } expected ? FieldFault.Of(field, value, expected) : null;
}
