using System.CommandLine;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options that describe a material; each overrides what the material's profile says.</summary>
internal sealed class MaterialOptions
{
    private readonly Option<double?> _thickness = NumberOption.OfThickness();
    private readonly Option<string?> _batch = new("--batch")
    {
        Description = Voice.Say("option.batch"), HelpName = OptionText.Placeholder("name"),
    };
    private readonly Option<double?> _markPower = NumberOption.Create("--mark-power");
    private readonly Option<double?> _markSpeed = NumberOption.Create("--mark-speed");

    /// <summary>All of them, in the order of the help.</summary>
    public IEnumerable<Option> All => [_thickness, _batch, _markPower, _markSpeed];

    /// <summary>The option for notes, which only a profile has.</summary>
    public static Option<string?> Notes() =>
        new("--notes") { Description = Voice.Say("option.notes"), HelpName = OptionText.Placeholder("text") };

    /// <summary>A material with what was given on the command line in place of what it had.</summary>
    /// <returns>The material, or one line where only half of a marking setting was given.</returns>
    public Outcome<Material> Over(Material basis, ParseResult parsed)
    {
        double? power = parsed.GetValue(_markPower) ?? basis.Mark?.PowerPercent;
        double? speed = parsed.GetValue(_markSpeed) ?? basis.Mark?.SpeedMmPerMin;
        if (power is null != speed is null)
            return Alone((power is null ? _markSpeed : _markPower).Name);
        return basis with
        {
            ThicknessMm = parsed.GetValue(_thickness) ?? basis.ThicknessMm,
            Batch = parsed.GetValue(_batch) ?? basis.Batch,
            Mark = power is null
                ? basis.Mark
                : (basis.Mark ?? new() { PowerPercent = 0, SpeedMmPerMin = 0 }) with
                {
                    PowerPercent = power.Value, SpeedMmPerMin = speed!.Value,
                },
        };
    }

    /// <summary>A value of a plan like the others that are refused; its sentences are the option's own.</summary>
    private static Refusal Alone(string option) => Refusal.OfInput(Codes.PlanValue) with
    {
        Seen = Voice.Say("option.mark-alone.seen", ("option", option)), Remedy = Voice.Say("option.mark-alone.remedy"),
    };
}
