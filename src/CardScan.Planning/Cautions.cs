using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>What a person about to burn a card must have read.</summary>
public static class Cautions
{
    /// <summary>One sentence each. Sources: EN 207, ANSI Z136.1, IEC 60825-1; the machine's manual comes first.</summary>
    /// <param name="machine">The machine, whose wavelength the eyewear must be rated for.</param>
    public static ValueList<string> For(Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        return
        [
            Voice.Say("planning.caution.class"),
            Voice.Say("planning.caution.eyewear", Known(("wavelength", machine.WavelengthNm is { } nm ? In(Unit.Nm, nm) : null))),
            Voice.Say("planning.caution.fumes"),
            Voice.Say("planning.caution.attended"),
            Voice.Say("planning.caution.rules"),
        ];
    }
}
