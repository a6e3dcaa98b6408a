using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What a person about to burn a card must have read.</summary>
public static class Cautions
{
    /// <summary>One sentence each. Sources: EN 207, ANSI Z136.1, IEC 60825-1; the machine's manual comes first.</summary>
    /// <param name="machine">The machine, whose wavelength the eyewear must be rated for.</param>
    public static ValueList<string> For(Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        string wavelength = machine.WavelengthNm is { } nm ? $"{nm:0.#} nm" : "the laser's wavelength";
        return
        [
            "A cutting or engraving laser is class 4: its beam and the beam's reflections harm eyes and skin and start fires.",
            $"Keep the enclosure closed, or wear eyewear rated for {wavelength} (EN 207 or ANSI Z136.1).",
            "Run the extraction. Never burn PVC or other vinyl, PTFE, ABS, polycarbonate, carbon fibre, chrome-tanned leather, anything with beryllium, or a material you do not know.",
            "Stay beside the machine until it has stopped and nothing glows, with an extinguisher at hand; the slow cells at full power flame first.",
            "Local rules, the material's data sheet and the machine's manual come before anything written here.",
        ];
    }
}
