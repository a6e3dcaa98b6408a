using CardScan.Model;

namespace CardScan.Cli;

/// <summary>A profile in a line: name, kind, and the values that matter most; what it does not tell is left out.</summary>
internal static class ProfileLine
{
    public static string Of(Machine machine) => Line(machine.Name, "machine",
    [
        $"{Figures.Plain(machine.RatedOpticalWatts)} W",
        Told(machine.WavelengthNm, nm => $"{Figures.Plain(nm)} nm"),
        machine.WorkArea is { } area ? $"work area {Figures.Plain(area.WidthMm)} × {Figures.Plain(area.HeightMm)} mm" : null,
        Told(machine.FastestFeedMmPerMin, feed => $"up to {Figures.Plain(feed)} mm/min"),
        Told(machine.FullPowerS, s => $"S{Figures.Plain(s)} is full power"),
        machine.BeamMode is BeamMode.FollowsSpeed ? "power follows speed" : null,
    ]);

    public static string Of(Material material) => Line(material.Name, "material",
    [
        Told(material.ThicknessMm, mm => $"{Figures.Plain(mm)} mm"),
        material.Batch is { } batch ? $"batch {batch}" : null,
        material.Mark is { } mark ? $"marks at {Figures.Plain(mark.PowerPercent)} % and {Figures.Plain(mark.SpeedMmPerMin)} mm/min" : null,
    ]);

    private static string Line(string name, string kind, IEnumerable<string?> values) =>
        string.Join(", ", values.OfType<string>().Prepend($"{name} ({kind})"));

    private static string? Told(double? value, Func<double, string> words) => value is { } told ? words(told) : null;
}
