using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Reporting;

namespace CardScan.Workflow;

/// <summary>The files of a planned card beside its plan.</summary>
/// <param name="Drawn">Those that stand beside the plan.</param>
/// <param name="Apart">The drawings one a setting, in a folder of their own; empty where they are not asked for.</param>
/// <param name="WithoutMachineFile">Why there is no machine file; null where there is one.</param>
internal sealed record CardFiles(ValueList<NewFile> Drawn, ValueList<NewFile> Apart, Refusal? WithoutMachineFile)
{
    internal const string PlanName = "plan.json";

    internal const string MachineFileName = "card.gcode", OutlineName = "outline.gcode";

    private const string DrawingName = "card.svg", TableName = "settings.csv", PageName = "settings.html", PreviewName = "preview.png",
        FrameName = "frame.pdf", StripOnA4Name = "strip-a4.pdf", StripOnLetterName = "strip-letter.pdf";

    /// <summary>The files that a plan may have beside it, in the order in which they are told.</summary>
    internal static readonly IReadOnlyList<string> Names =
        [DrawingName, TableName, PageName, PreviewName, FrameName, MachineFileName, OutlineName, StripOnA4Name, StripOnLetterName];

    /// <summary>
    /// Draws everything; what is burned, or drawn to be burned, tells everything in the units of the plan. Refused where the machine
    /// cannot point as asked.
    /// </summary>
    internal static Outcome<CardFiles> Of(Plan plan, CardExtras extras)
    {
        List<NewFile> drawn = [];
        Refusal? withoutMachineFile = null;
        foreach (string name in Names.Where(name => Belongs(name, plan)))
        {
            Outcome<NewFile> file = One(name, plan, extras);
            if (!file.IsRefused) drawn.Add(file.Value);
            else if (file.Refusal!.Code == Codes.PointerInvisible) return file.Refusal;
            else if (name == MachineFileName) withoutMachineFile = file.Refusal;
        }

        using IDisposable told = Voice.WriteFiles();
        ValueList<NewFile> apart = extras.SplitsDrawing ? StepDrawings.Of(plan, CardPlanner.StepsOf(plan)).ToValueList() : [];
        return new CardFiles(drawn.ToValueList(), apart, withoutMachineFile);
    }

    /// <summary>Whether a plan has a file of this name, as long as its machine can do it.</summary>
    internal static bool Belongs(string name, Plan plan) => name switch
    {
        StripOnA4Name or StripOnLetterName => plan.IsPrinted,
        _ when plan.IsPrinted => false,
        FrameName => plan.Frame is not null,
        PreviewName or MachineFileName or OutlineName => plan.Burning is not null,
        _ => true,
    };

    /// <summary>One of the files.</summary>
    /// <param name="name">One of <see cref="Names"/> that <see cref="Belongs"/> to the plan.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="extras">What is asked of the dry run.</param>
    /// <returns>The file; or why the machine has none.</returns>
    internal static Outcome<NewFile> One(string name, Plan plan, CardExtras extras)
    {
        using IDisposable told = Voice.WriteFiles();
        return name switch
        {
            DrawingName => NewFile.OfText(name, CardPlanner.DrawSvg(plan)),
            TableName => NewFile.OfText(name, CardReport.SettingsCsv(plan, CardPlanner.StepsOf(plan))),
            PageName => NewFile.OfText(name, CardReport.SettingsHtml(plan, CardPlanner.StepsOf(plan), Cautions.For(plan.Machine))),
            PreviewName => new NewFile(name, CardPlanner.PaintPreview(plan)),
            FrameName => new NewFile(name, CardPlanner.PrintFrame(plan)),
            StripOnA4Name => new NewFile(name, CardPlanner.PrintStrip(plan, Paper.A4)),
            StripOnLetterName => new NewFile(name, CardPlanner.PrintStrip(plan, Paper.Letter)),
            MachineFileName => Text(CardPlanner.WriteMachineFile(plan)),
            OutlineName => Text(CardPlanner.WriteOutline(plan, extras.PointerPercent)),
            _ => throw new ArgumentOutOfRangeException(nameof(name), name, "A plan has no such file."),
        };

        Outcome<NewFile> Text(Outcome<string> text) => text.IsRefused ? text.Refusal! : NewFile.OfText(name, text.Value);
    }

    /// <summary>Writes the plan and the files.</summary>
    /// <returns>Their paths; a folder of drawings counts as one.</returns>
    internal Outcome<ValueList<string>> Write(string folder, byte[] planJson)
    {
        Outcome<ValueList<string>> files = OutputFolder.Write(folder, [new(PlanName, planJson), .. Drawn, .. Apart]);
        if (files.IsRefused) return files.Refusal!;
        IEnumerable<string> folders = Apart.Count > 0 ? [Path.Combine(folder, StepDrawings.FolderName)] : [];
        return files.Value.Take(1 + Drawn.Count).Concat(folders).ToValueList();
    }

    /// <summary>A plan belongs to a card that may be burned already: losing it would make that card unreadable.</summary>
    internal static Refusal? FirstObstacle(string folder, byte[] json)
    {
        if (OutputFolder.NameFault(folder) is { } fault) return fault;
        string plan = Path.Combine(folder, PlanName);
        if (!Path.Exists(plan))
        {
            IEnumerable<string> others = Names.Append(StepDrawings.FolderName).Select(name => Path.Combine(folder, name));
            return others.FirstOrDefault(Path.Exists) is { } foreign
                ? Refusal.OfInput(Codes.OutForeign, ("kind", "plan"), ("path", foreign))
                : null;
        }

        Outcome<byte[]> old = InputFile.ReadBytes(plan, "plan");
        return !old.IsRefused && old.Value.AsSpan().SequenceEqual(json)
            ? null
            : Refusal.OfInput(Codes.PlanExists, ("path", plan));
    }
}
