using System.Threading.Tasks.Dataflow;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>How far the reading of many photos has come.</summary>
/// <param name="Done">Photos that were begun, counted once when sorted and once when read.</param>
/// <param name="Total">What <paramref name="Done"/> grows to.</param>
/// <param name="Now">What is being done.</param>
public sealed record ReadProgress(int Done, int Total, string Now);

/// <summary>What came of many photos.</summary>
/// <param name="Cards">A result for each card that could be read, in the order of the cards' first photos.</param>
/// <param name="Refused">The photos of no card, then those of each card that could not be read, in the order given.</param>
public sealed record ReadCardsResult(ValueList<ReadResult> Cards, ValueList<RefusedPhoto> Refused);

/// <summary>Photos of many cards, sorted by the cards that they show, each card read as by <see cref="ReadCard"/>.</summary>
/// <remarks>A bad photo or card never stops the others. Memory grows with the cards that are read at once, not with the photos.</remarks>
public static class ReadCards
{
    /// <summary>Memory that a card takes while it is read, bytes: a 12-megapixel photo with everything made from it, rounded up.</summary>
    private const long BytesPerCard = 400L * 1000 * 1000;

    /// <summary>Reads the cards.</summary>
    /// <param name="request">The photos, and how each card is to be read. A folder other than <see cref="ReadRequest.FolderOfCard"/> gets one of the card's own inside it where there are several cards.</param>
    /// <param name="plans">Plans by path or by name in the archive; what they have not is looked for in the archive by its number.</param>
    /// <param name="progress">Told how far it is; by several threads.</param>
    /// <returns>What was read and what not; or why nothing was even tried.</returns>
    public static Outcome<ReadCardsResult> Run(ReadRequest request, ValueList<string> plans, IProgress<ReadProgress>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(plans);
        Outcome<Dictionary<int, string>> byNumber = ByNumber(plans, request.Archive);
        if (byNumber.IsRefused) return byNumber.Refusal!;

        Count count = new(2 * request.Photos.Count, progress);
        SortedPhoto[] sorted = Sort(request.Photos, byNumber.Value, count);
        ReadRequest[] cards = [.. sorted.Where(photo => photo.Number is not null).GroupBy(photo => photo.Number!.Value).Select(card => request with
        {
            Photos = card.Select(photo => photo.Path).ToValueList(),
            Plan = byNumber.Value.GetValueOrDefault(card.Key),
        })];
        if (cards.Length > 1) cards = [.. cards.Select(card => card with { OutputFolder = InFolderOf(card.OutputFolder) })];

        List<ReadResult> results = [];
        List<RefusedPhoto> refused = [.. sorted.Where(photo => photo.Refusal is not null).Select(photo => new RefusedPhoto(Path.GetFileName(photo.Path), photo.Refusal!))];
        foreach ((ReadRequest card, Outcome<RenderedCard> rendered) in InOrder(cards, card => ReadCard.Render(card, count)))
        {
            Outcome<ReadResult> result = rendered.IsRefused ? rendered.Refusal! : ReadCard.Write(card, rendered.Value);
            if (result.IsRefused) refused.Add(new(string.Join(", ", card.Photos.Select(path => Path.GetFileName(path))), result.Refusal!));
            else results.Add(result.Value);
        }

        return new ReadCardsResult(results.ToValueList(), refused.ToValueList());
    }

    private static Outcome<Dictionary<int, string>> ByNumber(ValueList<string> plans, ArchivePlace? archive)
    {
        Dictionary<int, string> byNumber = [];
        foreach (string name in plans)
        {
            Outcome<ChosenPlan> plan = PlanChoice.Named(name, archive);
            if (plan.IsRefused) return plan.Refusal!;
            int number = plan.Value.File.Plan.Number;
            if (!byNumber.TryAdd(number, name))
                return Refusal.OfInput("plans-same-number", $"{byNumber[number]} and {name} are plans of the same number, {number}, which photos cannot tell apart", "read the photos of each card by themselves, with its own plan");
        }

        return byNumber;
    }

    /// <summary>A glance at every photo for the card that it shows.</summary>
    private static SortedPhoto[] Sort(ValueList<string> paths, Dictionary<int, string> plans, Count count) =>
    [
        .. paths.AsParallel().AsOrdered().WithDegreeOfParallelism(CardsAtOnce).Select(path =>
        {
            string name = Path.GetFileName(path);
            count.Report($"sorting {name}");
            Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
            if (bytes.IsRefused) return new SortedPhoto(path, null, bytes.Refusal);
            Outcome<ValueList<int>> numbers = CardReader.CardNumbers(new(name, bytes.Value));
            return numbers.IsRefused
                ? new SortedPhoto(path, null, numbers.Refusal!.In(name))
                : new(path, numbers.Value.FirstOrDefault(plans.ContainsKey, numbers.Value[0]), null);
        }),
    ];

    private static int CardsAtOnce => (int)Math.Clamp(GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / BytesPerCard, 1, Environment.ProcessorCount);

    /// <summary>Works on several items at once and gives the results in the items' order; no more wait than are worked on.</summary>
    private static IEnumerable<(TItem Item, TResult Result)> InOrder<TItem, TResult>(IReadOnlyList<TItem> items, Func<TItem, TResult> work)
    {
        TransformBlock<TItem, (TItem, TResult)> block = new(
            item => (item, work(item)), new() { MaxDegreeOfParallelism = CardsAtOnce, BoundedCapacity = 2 * CardsAtOnce, EnsureOrdered = true });
        Task feeding = Feed();
        while (block.OutputAvailableAsync().GetAwaiter().GetResult()) yield return block.Receive();
        feeding.GetAwaiter().GetResult();
        block.Completion.GetAwaiter().GetResult();

        async Task Feed()
        {
            foreach (TItem item in items) await block.SendAsync(item).ConfigureAwait(false);
            block.Complete();
        }
    }

    private static string? InFolderOf(string? folder) => folder is null or ReadRequest.FolderOfCard ? folder : Path.Combine(folder, ReadRequest.FolderOfCard);

    /// <summary>A photo and the card that it shows.</summary>
    /// <param name="Path">The photo.</param>
    /// <param name="Number">The card's number; null where it was refused.</param>
    /// <param name="Refusal">Why it was.</param>
    private sealed record SortedPhoto(string Path, int? Number, Refusal? Refusal);

    /// <summary>Counts photos as they are begun: what is told of the other steps moves nothing.</summary>
    private sealed class Count(int total, IProgress<ReadProgress>? progress) : IProgress<string>
    {
        private int _done;

        public void Report(string value)
        {
            bool isPhoto = value.StartsWith("sorting ", StringComparison.Ordinal) || value.StartsWith("reading ", StringComparison.Ordinal);
            int done = isPhoto ? Interlocked.Increment(ref _done) : Volatile.Read(ref _done);
            progress?.Report(new(Math.Min(done, total), total, value));
        }
    }
}
