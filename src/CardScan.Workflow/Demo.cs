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
                Plans = [Path.Combine(card, "plan.json")],
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

    private static Outcome<CompareResult> Compare(string outputFolder)
    {
        Outcome<ValueList<LoadedReading>> batches =
            ReadingSource.Load([Path.Combine(outputFolder, FirstBatch), Path.Combine(outputFolder, SecondBatch)], archive: null);
        return batches.IsRefused
            ? batches.Refusal!
            : CompareCards.Run(CompareRequest.Of(batches.Value, [], margin: null) with { OutputFolder = outputFolder });
    }
}
