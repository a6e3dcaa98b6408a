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
/// <remarks>A bad photo or card never stops the others. Memory grows with the photos that are read at once, not with all of them.</remarks>
public static class ReadCards
{
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
        IGrouping<int, SortedPhoto>[] groups = [.. sorted.Where(photo => photo.Refusal is null).GroupBy(photo => photo.Numbers[0])];
        SortedCard[] cards = [.. groups.Select(card => new SortedCard(card.First().Numbers, request with
        {
            Photos = card.Select(photo => photo.Path).ToValueList(),
            Plan = byNumber.Value.GetValueOrDefault(card.Key),
            OutputFolder = groups.Length > 1 ? InFolderOf(request.OutputFolder) : request.OutputFolder,
        }))];

        List<ReadResult> results = [];
        List<RefusedPhoto> refused = [.. sorted.Where(photo => photo.Refusal is not null).Select(photo => new RefusedPhoto(Path.GetFileName(photo.Path), photo.Refusal!))];
        foreach ((SortedCard card, Outcome<RenderedCard> rendered) in InOrder(cards, card => ReadCard.Render(card.Request, card.Numbers, count.Photos("reading"), count)))
        {
            Outcome<ReadResult> result = rendered.IsRefused ? rendered.Refusal! : ReadCard.Write(card.Request, rendered.Value);
            if (result.IsRefused) refused.Add(new(string.Join(", ", card.Request.Photos.Select(path => Path.GetFileName(path))), result.Refusal!));
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
    private static SortedPhoto[] Sort(ValueList<string> paths, Dictionary<int, string> plans, Count count)
    {
        IProgress<string> begun = count.Photos("sorting");
        return
        [
            .. paths.AsParallel().AsOrdered().WithDegreeOfParallelism(PhotoRoom.Most).Select(path =>
            {
                string name = Path.GetFileName(path);
                begun.Report(name);
                Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
                if (bytes.IsRefused) return new SortedPhoto(path, [], bytes.Refusal);
                Outcome<ValueList<int>> numbers = CardReader.CardNumbers(new(name, bytes.Value));
                return numbers.IsRefused
                    ? new SortedPhoto(path, [], numbers.Refusal!.In(name))
                    : new(path, numbers.Value.OrderByDescending(plans.ContainsKey).ToValueList(), null);
            }),
        ];
    }

    /// <summary>Works on several items at once and gives the results in the items' order; no more wait than are worked on.</summary>
    private static IEnumerable<(TItem Item, TResult Result)> InOrder<TItem, TResult>(IReadOnlyList<TItem> items, Func<TItem, TResult> work)
    {
        TransformBlock<TItem, (TItem, TResult)> block = new(
            item => (item, work(item)), new() { MaxDegreeOfParallelism = PhotoRoom.Most, BoundedCapacity = 2 * PhotoRoom.Most, EnsureOrdered = true });
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
    /// <param name="Numbers">The card's number, then others whose markers are seen; none where it was refused.</param>
    /// <param name="Refusal">Why it was.</param>
    private sealed record SortedPhoto(string Path, ValueList<int> Numbers, Refusal? Refusal);

    /// <summary>A card's photos.</summary>
    /// <param name="Numbers">Those of the first.</param>
    /// <param name="Request">How they are to be read.</param>
    private sealed record SortedCard(ValueList<int> Numbers, ReadRequest Request);

    /// <summary>Counts photos as they are begun: what is told of the other steps moves nothing.</summary>
    private sealed class Count(int total, IProgress<ReadProgress>? progress) : IProgress<string>
    {
        private int _done;

        /// <summary>Is told the names of the photos of one round as they are begun.</summary>
        public IProgress<string> Photos(string doing) => new Begun(this, doing);

        public void Report(string value) => Report(Volatile.Read(ref _done), value);

        private void Report(int done, string value) => progress?.Report(new(Math.Min(done, total), total, value));

        private sealed class Begun(Count count, string doing) : IProgress<string>
        {
            public void Report(string value) => count.Report(Interlocked.Increment(ref count._done), $"{doing} {value}");
        }
    }
}
