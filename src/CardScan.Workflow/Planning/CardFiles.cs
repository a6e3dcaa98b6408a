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
    private const string PlanName = "plan.json";

    private const string DrawingName = "card.svg", TableName = "settings.csv", PageName = "settings.html", PreviewName = "preview.png",
        MachineFileName = "card.gcode", OutlineName = "outline.gcode", FrameName = "frame.pdf";

    private static readonly string[] OtherNames =
        [DrawingName, TableName, PageName, PreviewName, MachineFileName, OutlineName, FrameName, StepDrawings.FolderName];

    /// <summary>
    /// Draws everything; what is burned, or drawn to be burned, tells everything in the units of the plan. Refused where the machine
    /// cannot point as asked.
    /// </summary>
    internal static Outcome<CardFiles> Of(Plan plan, CardExtras extras)
    {
        using IDisposable told = Voice.WriteFiles();
        Outcome<string> machineFile = CardPlanner.WriteMachineFile(plan), outline = CardPlanner.WriteOutline(plan, extras.PointerPercent);
        if (outline.IsRefused && outline.Refusal!.Code == Codes.PointerInvisible) return outline.Refusal;

        ValueList<BurnStep> steps = CardPlanner.StepsOf(plan);
        NewFile?[] drawn =
        [
            NewFile.OfText(DrawingName, CardPlanner.DrawSvg(plan)),
            NewFile.OfText(TableName, CardReport.SettingsCsv(plan, steps)),
            NewFile.OfText(PageName, CardReport.SettingsHtml(plan, steps, Cautions.For(plan.Machine))),
            new(PreviewName, CardPlanner.PaintPreview(plan)),
            plan.Frame is null ? null : new(FrameName, CardPlanner.PrintFrame(plan)),
            machineFile.IsRefused ? null : NewFile.OfText(MachineFileName, machineFile.Value),
            outline.IsRefused ? null : NewFile.OfText(OutlineName, outline.Value),
        ];
        ValueList<NewFile> apart = extras.SplitsDrawing ? StepDrawings.Of(plan, steps).ToValueList() : [];
        return new CardFiles(drawn.OfType<NewFile>().ToValueList(), apart, machineFile.Refusal);
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
            return OtherNames.Select(name => Path.Combine(folder, name)).FirstOrDefault(Path.Exists) is { } foreign
                ? Refusal.OfInput(Codes.OutForeign, ("kind", "plan"), ("path", foreign))
                : null;
        }

        Outcome<byte[]> old = InputFile.ReadBytes(plan, "plan");
        return !old.IsRefused && old.Value.AsSpan().SequenceEqual(json)
            ? null
            : Refusal.OfInput(Codes.PlanExists, ("path", plan));
    }
}
