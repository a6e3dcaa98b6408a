using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Photos of a single card: what came of it, or why nothing.</summary>
internal static class ReadOne
{
    public static Outcome<ReadResult> Run(ReadRequest request, IProgress<ReadProgress>? progress = null)
    {
        Outcome<ReadCardsResult> read = ReadCards.Run(request, progress);
        if (read.IsRefused) return read.Refusal!;
        return read.Value.Cards is [var card] ? card : read.Value.Refused[0].Refusal;
    }
}
