using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>What the form for a card asks for: everything that <c>cardscan plan</c> takes and that means something here.</summary>
internal sealed class CardForm
{
    /// <summary>Every field, in the order of the form.</summary>
    public static readonly string[] Names =
    [
        "machine", "name", "watts", "wavelength", "fastest-feed", "area", "full-power-s", "beam-mode", "beam", "acceleration", "powered-z",
        "air-switch", "keep-machine", "material", "thickness", "batch", "keep-material", "accept-risk", "process", "kind", "power", "speed",
        "passes", "line-interval", "focus-offset", "focus-step", "cell", "gap", "marker", "card", "frame", "tabs", "tab-length",
        "mark-power", "mark-speed", "air", "air-pressure", "pass-pause", "cell-pause", "title", "seed",
    ];

    private readonly Profiles _profiles;
    private readonly ArchivePlace _archive;
    private readonly Preferences _usual;

    public CardForm(HttpContext context, Workshop shop, TypedFields typed)
    {
        (_profiles, _archive, Typed) = (shop.ProfilesOf(context), shop.ArchiveOf(context), typed);
        Outcome<Preferences> usual = _profiles.ReadPreferences();
        _usual = usual.IsRefused ? new() : usual.Value;
        Machines = [.. _profiles.KeptMachines().Where(kept => !kept.IsRefused).Select(kept => kept.Value)];
        Materials = [.. _profiles.KeptMaterials().Where(kept => !kept.IsRefused).Select(kept => kept.Value)];
        Machine = ChosenMachine()?.Machine!.Content;
        Material = MaterialName is not { } material ? null : _profiles.OfName(material, isMachine: false)?.Material!.Content;
    }

    /// <summary>What was typed.</summary>
    public TypedFields Typed { get; }

    /// <summary>The machines to choose from.</summary>
    public KeptProfile[] Machines { get; }

    /// <summary>The materials that are kept.</summary>
    public KeptProfile[] Materials { get; }

    /// <summary>The profile of the machine that is chosen; null where another one is described.</summary>
    public Machine? Machine { get; }

    /// <summary>The profile of the material that is named; null where none of that name is kept.</summary>
    public Material? Material { get; }

    /// <summary>The material that is taken where none is typed.</summary>
    public string? UsualMaterial => _usual.Material;

    /// <summary>False as long as nothing can be planned: no material is named, or nothing is known of the machine.</summary>
    public bool IsBegun => MaterialName is not null && (Machine is not null || Typed.Text("watts") is not null);

    private string? MaterialName => Typed.Text("material") ?? _usual.Material;

    /// <summary>The name of a kept material that may have been meant; null where there is none.</summary>
    public string? NearMaterial => Material is null && Typed.Text("material") is { } name ? _profiles.NearMaterial(name) : null;

    /// <summary>The card that is asked for, with nothing written but into the archive; or the first field that cannot be taken.</summary>
    public Outcome<CardRequest> Request()
    {
        Outcome<Machine> machine = MachineAsked();
        Outcome<Material> material = MaterialAsked();
        if (Typed.Fault is { } early) return early;
        if (machine.IsRefused) return machine.Refusal!;
        if (material.IsRefused) return material.Refusal!;

        Outcome<AirAssist?> air = AirAsked();
        if (air.IsRefused) return air.Refusal!;
        PlanRequest usual = new() { Material = material.Value, Machine = machine.Value, Settings = Ranges() };
        CardKind kind = Typed.Is("kind") ? CardKind.FocusLadder : CardKind.Grid;
        double? cell = Typed.Number("cell"), gap = Typed.Number("gap"), marker = Typed.Number("marker");
        PlanRequest plan = usual with
        {
            Kind = kind,
            Process = Typed.Word("process", "engrave", "cut") == "cut" ? Process.Cut : Process.Engrave,
            Title = Typed.Text("title") ?? "",
            Seed = (int?)Typed.Number("seed"),
            AcceptedRisk = Typed.Text("accept-risk"),
            AirAssist = air.Value,
            FocusStepMm = Typed.Number("focus-step"),
            PassPauseS = Typed.Number("pass-pause"),
            CellPauseS = Typed.Number("cell-pause"),
            TabsPerSide = (int)(Typed.Number("tabs") ?? 0),
            TabMm = Typed.Number("tab-length") ?? usual.TabMm,
            CellSideMm = cell ?? (kind == CardKind.FocusLadder ? PlanRequest.UsualLadderCellMm : usual.CellSideMm),
            GapMm = gap ?? usual.GapMm,
            MarkerSideMm = marker ?? usual.MarkerSideMm,
            Frame = Typed.Word("frame", "a4", "letter") switch { "a4" => Paper.A4, "letter" => Paper.Letter, _ => null },
            Card = Typed.Size("card"),
        };
        return Typed.Fault is { } fault ? fault : new CardRequest
        {
            Plan = plan,
            TakesFreeNumber = true,
            MayShrinkCells = cell is null,
            MayFitToCard = cell is null && gap is null && marker is null,
            OutputFolder = null,
            Archive = _archive,
        };
    }

    /// <summary>Keeps the machine and the material where that is asked for; gives why not.</summary>
    public Refusal? KeepProfiles(PlanRequest plan)
    {
        Refusal? fault = Typed.Is("keep-machine") ? _profiles.Save(plan.Machine, mayReplace: false).Refusal : null;
        return fault ?? (Typed.Is("keep-material") ? _profiles.Save(plan.Material, mayReplace: false).Refusal : null);
    }

    /// <summary>The one that is chosen; where nothing was chosen yet, the default one or the only one.</summary>
    private KeptProfile? ChosenMachine()
    {
        if (Typed.Text("machine") is { } name) return _profiles.OfName(name, isMachine: true);
        if (Typed.IsThere("machine")) return null;
        if (_usual.Machine is { } usual) return _profiles.OfName(usual, isMachine: true);
        return Machines is [var only] ? only : null;
    }

    private Outcome<Machine> MachineAsked()
    {
        string name = Typed.Text("name") ?? Voice.Say("option.value.machine");
        return MachineFields.Over(name, Machine, Typed) is { } machine ? machine : _profiles.WattsMissing(name);
    }

    private Outcome<Material> MaterialAsked()
    {
        if (MaterialName is not { } name) return Refusal.OfInput(Codes.PlanNoMaterial);
        return MaterialFields.Over(Material ?? new() { Name = name }, Typed);
    }

    private Outcome<AirAssist?> AirAsked()
    {
        (string? air, string? pressure) = (Typed.Word("air", "on", "off"), Typed.Text("air-pressure"));
        if (air == "off" && pressure is not null) return Refusal.OfInput(Codes.PlanValue, ("fault", "air-off"));
        return (air ?? pressure) is null ? null : new AirAssist { IsOn = air != "off", Pressure = pressure };
    }

    private ValueList<SettingRange> Ranges() =>
        Enum.GetValues<Setting>().Select(Typed.Range).OfType<SettingRange>().ToValueList();
}
