using System.CommandLine;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options that describe a material; each overrides what the material's profile says.</summary>
internal sealed class MaterialOptions
{
    private readonly Option<double?> _thickness = NumberOption.Create("--thickness", "Thickness of the material, mm; needed to read a cut card", mm => mm is > 0 and <= 1000, "a number of mm above 0");
    private readonly Option<string?> _batch = new("--batch") { Description = "The delivery it came with", HelpName = "name" };
    private readonly Option<double?> _markPower = NumberOption.Create("--mark-power", "Power that marks it clearly without charring deep, percent: for markers and labels, with --mark-speed", p => p is > 0 and <= 100, "more than 0, at most 100 %");
    private readonly Option<double?> _markSpeed = NumberOption.Create("--mark-speed", "Speed for markers and labels, mm/min", v => v is >= 10 and <= 1_000_000, "10 mm/min or more; 1.000 is one, not a thousand");

    /// <summary>All of them, in the order of the help.</summary>
    public IEnumerable<Option> All => [_thickness, _batch, _markPower, _markSpeed];

    /// <summary>A material with what was given on the command line in place of what it had.</summary>
    /// <returns>The material, or one line where only half of a marking setting was given.</returns>
    public Outcome<Material> Over(Material basis, ParseResult parsed)
    {
        double? power = parsed.GetValue(_markPower) ?? basis.Mark?.PowerPercent, speed = parsed.GetValue(_markSpeed) ?? basis.Mark?.SpeedMmPerMin;
        if (power is null != speed is null)
            return Refusal.OfInput("plan-value", $"{(power is null ? "--mark-speed" : "--mark-power")} is given alone", "give --mark-power and --mark-speed together");
        return basis with
        {
            ThicknessMm = parsed.GetValue(_thickness) ?? basis.ThicknessMm,
            Batch = parsed.GetValue(_batch) ?? basis.Batch,
            Mark = power is null ? basis.Mark : (basis.Mark ?? new() { PowerPercent = 0, SpeedMmPerMin = 0 }) with { PowerPercent = power.Value, SpeedMmPerMin = speed!.Value },
        };
    }
}
