using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>What is asked of a first card.</summary>
public sealed record StartRequest
{
    /// <summary>Engrave or cut.</summary>
    public required Process Process { get; init; }

    /// <summary>What it is burned into; a cut needs its thickness.</summary>
    public required Material Material { get; init; }

    /// <summary>What burns it.</summary>
    public required Machine Machine { get; init; }

    /// <summary>What earlier cards tell; null takes the table.</summary>
    public StartingEnergy? Known { get; init; }

    /// <summary>Settings that were asked for; they rule.</summary>
    public ValueList<SettingRange> Given { get; init; } = [];
}

/// <summary>The settings of a first card and what they rest on.</summary>
/// <param name="Settings">The ranges, those that were asked for included.</param>
/// <param name="Energy">The energy that they are centred on.</param>
public sealed record Start(ValueList<SettingRange> Settings, StartingEnergy Energy);

/// <summary>Makes the first card's settings.</summary>
internal static class StartChooser
{
    public static Outcome<Start> For(StartRequest request)
    {
        Material material = request.Material;
        if (request.Process == Process.Cut && material.ThicknessMm is null) return Refusal.OfInput(Codes.StartThickness);
        Outcome<StartingEnergy> energy = request.Known is { } known ? known : FromTable(request);
        if (energy.IsRefused) return energy.Refusal!;

        StartingGrid grid = new(energy.Value, request.Machine, request.Process);
        if (grid.Around(request.Given) is not { } settings)
        {
            return Refusal.OfInput(Codes.StartOutOfReach,
                ("material", material.Name), ("energy", Of(energy.Value, request.Process)),
                ("watts", In(Unit.Watts, request.Machine.RatedOpticalWatts)));
        }

        double focus = grid.FocusOffsetMm(material.ThicknessMm);
        bool isFocusChosen = focus != 0 && settings.All(range => range.Setting != Setting.FocusOffsetMm);
        return new Start(isFocusChosen ? [.. settings, new(Setting.FocusOffsetMm, [focus])] : settings, energy.Value);
    }

    /// <summary>Why a laser of this colour will not mark or cut a material; null where nothing speaks against it.</summary>
    public static Advice? NotTaken(Material material, Process process, Machine machine) =>
        MaterialKinds.Of(material.Name) is { } kind && StartingEnergies.Find(kind, process, machine.WavelengthNm) is { Energy: null } row
            ? new(Codes.LaserNotTaken, WhyNot(material, row))
            : null;

    /// <summary>
    /// The energy that a material is expected to need: what a plan was chosen around, else the table's; null where neither
    /// tells.
    /// </summary>
    public static StartingEnergy? Expected(Material material, Process process, Machine machine, StartingEnergy? start) =>
        start ?? (MaterialKinds.Of(material.Name) is { } kind && StartingEnergies.Find(kind, process, machine.WavelengthNm) is { } row
            ? row.For(material.ThicknessMm ?? StartingEnergies.UsualThicknessMm)
            : null);

    private static Outcome<StartingEnergy> FromTable(StartRequest request)
    {
        Material material = request.Material;
        if (MaterialKinds.Of(material.Name) is not { } kind) return Refusal.OfInput(Codes.StartKind, ("material", material.Name));
        if (StartingEnergies.Find(kind, request.Process, request.Machine.WavelengthNm) is not { } row)
        {
            return Refusal.OfInput(Codes.StartNoFigure,
                ("kind", new Phrase($"kind.{kind}")), ("process", EnumName.Of(request.Process)),
                ("wavelength", In(Unit.Nm, request.Machine.WavelengthNm ?? 450)));
        }

        return row.For(material.ThicknessMm ?? StartingEnergies.UsualThicknessMm) is { } energy
            ? energy
            : Refusal.OfInput(Codes.StartNotTaken, WhyNot(material, row));
    }

    private static (string Name, Figure Value)[] WhyNot(Material material, StartingEnergies.Row row) =>
        [("material", material.Name), ("laser", row.Laser), ("process", EnumName.Of(row.Process)), ("reason", row.Source)];

    private static Number Of(StartingEnergy energy, Process process) =>
        In(process == Process.Cut ? Unit.JPerMm : Unit.JPerMm2, energy.Energy);
}
