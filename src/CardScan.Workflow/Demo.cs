using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>The demonstration: the cards that ship with CardScan, read as any other.</summary>
public static class Demo
{
    /// <summary>Folder of the shipped cards beside the program.</summary>
    public const string FixtureFolder = "demo";

    /// <summary>Reads every shipped card.</summary>
    /// <param name="fixtures">Folder that holds <see cref="FixtureFolder"/>.</param>
    /// <param name="outputFolder">Folder for the results; each card gets one of its own in it.</param>
    /// <param name="progress">Told what is being done.</param>
    public static Outcome<ValueList<ReadResult>> Run(string fixtures, string outputFolder, IProgress<string>? progress = null)
    {
        // Joined with a card's name an empty one would be the folder one happens to stand in.
        if (OutputFolder.NameFault(outputFolder) is { } fault) return fault;
        List<ReadResult> results = [];
        foreach (string card in Directory.GetDirectories(Path.Combine(fixtures, FixtureFolder)).Order(StringComparer.Ordinal))
        {
            ReadRequest request = new()
            {
                Plan = Path.Combine(card, "plan.json"),
                Photos = Directory.GetFiles(card, "*.jpg").Order(StringComparer.Ordinal).ToValueList(),
                OutputFolder = Path.Combine(outputFolder, Path.GetFileName(card)),
            };
            Outcome<ReadResult> result = ReadCard.Run(request, progress);
            if (result.IsRefused) return result.Refusal!;
            results.Add(result.Value);
        }

        return results.ToValueList();
    }
}
