using System.Text;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>What the demonstration left.</summary>
/// <param name="Cards">The readings of the shipped cards.</param>
/// <param name="Comparison">The two batches of birch, compared.</param>
public sealed record DemoResult(ValueList<ReadResult> Cards, CompareResult Comparison);

/// <summary>The demonstration: the cards that ship with CardScan, read as any other, and the two batches among them compared.</summary>
public static class Demo
{
    private const string FirstBatch = "engraved-birch", SecondBatch = "engraved-birch-second";

    private const string PlanName = "plan.json", FirstPhotoName = "birch-engrave.jpg";

    /// <summary>Folder of the shipped cards beside the program.</summary>
    public const string FixtureFolder = "demo";

    /// <summary>The demonstration's own archive, so that its cards do not get among a person's own.</summary>
    public static ArchivePlace ArchiveIn(string outputFolder, TimeProvider clock) => new(Path.Combine(outputFolder, "archive"), clock);

    /// <summary>Reads every shipped card and compares the two batches.</summary>
    /// <param name="fixtures">Folder that holds <see cref="FixtureFolder"/>.</param>
    /// <param name="outputFolder">Folder for the results; each card gets one of its own in it, the comparison lies in it.</param>
    /// <param name="clock">Tells when something is kept.</param>
    /// <param name="progress">Told what is being done.</param>
    public static Outcome<DemoResult> Run(
        string fixtures, string outputFolder, TimeProvider clock, IProgress<ReadProgress>? progress = null)
    {
        // Joined with a card's name an empty one would be the folder one happens to stand in.
        if (OutputFolder.NameFault(outputFolder) is { } fault) return fault;
        List<ReadResult> results = [];
        foreach (string card in Directory.GetDirectories(Path.Combine(fixtures, FixtureFolder)).Order(StringComparer.Ordinal))
        {
            ReadRequest request = new()
            {
                Plans = [Path.Combine(card, PlanName)],
                Photos = Directory.GetFiles(card, "*.jpg").Order(StringComparer.Ordinal).ToValueList(),
                OutputFolder = Path.Combine(outputFolder, Path.GetFileName(card)),
                Archive = ArchiveIn(outputFolder, clock),
            };
            Outcome<ReadCardsResult> read = ReadCards.Run(request, progress);
            if (read.IsRefused) return read.Refusal!;
            if (read.Value is not { Cards: [var result], Refused: [] }) return read.Value.Refused[0].Refusal;
            results.Add(result);
        }

        Outcome<CompareResult> comparison = Compare(outputFolder);
        return comparison.IsRefused ? comparison.Refusal! : new DemoResult(results.ToValueList(), comparison.Value);
    }

    /// <summary>The plan of the first shipped card.</summary>
    /// <param name="fixtures">Folder that holds <see cref="FixtureFolder"/>.</param>
    internal static string PlanIn(string fixtures) => Path.Combine(fixtures, FixtureFolder, FirstBatch, PlanName);

    /// <summary>The photo of the first shipped card.</summary>
    /// <param name="fixtures">Folder that holds <see cref="FixtureFolder"/>.</param>
    public static string PhotoIn(string fixtures) => Path.Combine(fixtures, FixtureFolder, FirstBatch, FirstPhotoName);

    /// <summary>
    /// Keeps the first shipped card in a person's own archive, under names that keep it apart: nothing is scored or planned from it
    /// for another material or machine.
    /// </summary>
    /// <param name="fixtures">Folder that holds <see cref="FixtureFolder"/>.</param>
    /// <param name="archive">The archive.</param>
    /// <returns>The card's photo; or why the card cannot be kept.</returns>
    public static Outcome<string> KeepCard(string fixtures, ArchivePlace archive)
    {
        ArgumentNullException.ThrowIfNull(archive);
        Outcome<byte[]> bytes = InputFile.ReadBytes(PlanIn(fixtures), "plan");
        if (bytes.IsRefused) return bytes.Refusal!;
        Outcome<PlanFile> plan = CardJson.ReadPlan(bytes.Value);
        if (plan.IsRefused) return plan.Refusal!;
        byte[] marked = Encoding.UTF8.GetBytes(CardJson.Write(Marked(plan.Value.Plan)));
        Outcome<KeptCard> kept = archive.Use(opened => opened.KeepCard(marked), mayMake: true);
        return kept.IsRefused ? kept.Refusal! : PhotoIn(fixtures);
    }

    private static Plan Marked(Plan plan) => plan with
    {
        Title = Voice.Say("workflow.demo.title"),
        Material = plan.Material with { Name = Voice.Say("workflow.demo.material", ("material", plan.Material.Name)) },
        Machine = plan.Machine with { Name = Voice.Say("workflow.demo.machine") },
    };

    private static Outcome<CompareResult> Compare(string outputFolder)
    {
        Outcome<ValueList<LoadedReading>> batches =
            ReadingSource.Load([Path.Combine(outputFolder, FirstBatch), Path.Combine(outputFolder, SecondBatch)], archive: null);
        return batches.IsRefused
            ? batches.Refusal!
            : CompareCards.Run(CompareRequest.Of(batches.Value, [], margin: null) with { OutputFolder = outputFolder });
    }
}
