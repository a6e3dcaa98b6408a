using System.CommandLine;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Options of what happens during and between the passes of a card: air, focus steps, pauses.</summary>
internal sealed class PassOptions
{
    private readonly Option<string?> _air = new("--air") { Description = Voice.Say("option.air"), HelpName = "on|off" };
    private readonly Option<string?> _pressure = new("--air-pressure")
    {
        Description = Voice.Say("option.air-pressure"), HelpName = OptionText.Placeholder("words"),
    };
    private readonly Option<double?> _focusStep = NumberOption.Create("--focus-step");
    private readonly Option<double?> _passPause = NumberOption.Create("--pass-pause");
    private readonly Option<double?> _cellPause = NumberOption.Create("--cell-pause");

    public PassOptions() => _air.AcceptOnlyFromAmong("on", "off");

    /// <summary>All of them, in the order of the help.</summary>
    public IEnumerable<Option> All => [_air, _pressure, _focusStep, _passPause, _cellPause];

    /// <summary>A request with what was given on the command line.</summary>
    /// <returns>Refused where the air is off and yet has a pressure.</returns>
    public Outcome<PlanRequest> Over(PlanRequest request, ParseResult parsed)
    {
        (string? air, string? pressure) = (parsed.GetValue(_air), parsed.GetValue(_pressure));
        if (air == "off" && pressure is not null) return Refusal.OfInput(Codes.PlanValue, ("fault", "air-off"));
        return request with
        {
            AirAssist = (air ?? pressure) is null ? request.AirAssist : new() { IsOn = air != "off", Pressure = pressure },
            FocusStepMm = parsed.GetValue(_focusStep) ?? request.FocusStepMm,
            PassPauseS = parsed.GetValue(_passPause) ?? request.PassPauseS,
            CellPauseS = parsed.GetValue(_cellPause) ?? request.CellPauseS,
        };
    }
}
