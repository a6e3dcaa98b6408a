using System.Threading.Tasks.Dataflow;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>How far the reading of many photos has come.</summary>
/// <param name="Done">Photos that were begun; where a report is wanted, counted once when sorted and once when read.</param>
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
        Outcome<Dictionary<int, NamedPlan>> byNumber = ByNumber(plans, request.Archive);
        if (byNumber.IsRefused) return byNumber.Refusal!;

        Count count = new((request.HasReport ? 2 : 1) * request.Photos.Count, progress);
        SortedPhoto[] sorted = Sort(request, byNumber.Value, count);
        IGrouping<int, SortedPhoto>[] groups = [.. sorted.Where(photo => photo.Refusal is null).GroupBy(photo => photo.Numbers[0])];
        SortedCard[] cards = [.. groups.Select(card => new SortedCard(card.First().Numbers, request with
        {
            Photos = card.Select(photo => photo.Path).ToValueList(),
            Plan = byNumber.Value.GetValueOrDefault(card.Key)?.Name,
            OutputFolder = groups.Length > 1 ? InFolderOf(request.OutputFolder) : request.OutputFolder,
        }, request.HasReport ? null : card.Select(photo => photo.Sight!).ToValueList()))];

        List<ReadResult> results = [];
        List<RefusedPhoto> refused = [.. sorted.Where(photo => photo.Refusal is not null).Select(photo => new RefusedPhoto(Path.GetFileName(photo.Path), photo.Refusal!))];
        CardsOfRun run = new(cards.Length);
        foreach (((int _, SortedCard card), Outcome<RenderedCard> rendered) in InOrder([.. cards.Index()], card => Render(card.Index, card.Item, count, run)))
        {
            Outcome<ReadResult> result = rendered.IsRefused ? rendered.Refusal! : ReadCard.Write(card.Request, rendered.Value);
            if (result.IsRefused) refused.Add(new(string.Join(", ", card.Request.Photos.Select(path => Path.GetFileName(path))), result.Refusal!));
            else results.Add(result.Value);
        }

        return new ReadCardsResult(results.ToValueList(), refused.ToValueList());
    }

    private static Outcome<RenderedCard> Render(int place, SortedCard card, Count count, CardsOfRun run)
    {
        try
        {
            return ReadCard.Render(card.Request, card.Numbers, count.Photos("reading"), count, card.Sights, reading => run.Before(place, reading));
        }
        finally
        {
            run.Leave(place);
        }
    }

    private static Outcome<Dictionary<int, NamedPlan>> ByNumber(ValueList<string> plans, ArchivePlace? archive)
    {
        Dictionary<int, NamedPlan> byNumber = [];
        foreach (string name in plans)
        {
            Outcome<ChosenPlan> plan = PlanChoice.Named(name, archive);
            if (plan.IsRefused) return plan.Refusal!;
            int number = plan.Value.File.Plan.Number;
            if (!byNumber.TryAdd(number, new(name, plan.Value.File)))
                return Refusal.OfInput("plans-same-number", $"{byNumber[number].Name} and {name} are plans of the same number, {number}, which photos cannot tell apart", "read the photos of each card by themselves, with its own plan");
        }

        return byNumber;
    }

    /// <summary>Finds for every photo the card that it shows: by a glance, or by looking once and for all.</summary>
    /// <remarks>A report wants the rectified photos, and those of all photos at once would fill the memory: there each photo is read again when it is its card's turn.</remarks>
    private static SortedPhoto[] Sort(ReadRequest request, Dictionary<int, NamedPlan> plans, Count count)
    {
        IProgress<string> begun = count.Photos(request.HasReport ? "sorting" : "reading");
        return
        [
            .. request.Photos.AsParallel().AsOrdered().WithDegreeOfParallelism(PhotoRoom.Most).Select(path =>
            {
                string name = Path.GetFileName(path);
                begun.Report(name);
                Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
                if (bytes.IsRefused) return new SortedPhoto(path, [], bytes.Refusal, null);
                PhotoFile photo = new(name, bytes.Value);
                return request.HasReport ? OfNumbers(path, CardReader.CardNumbers(photo), null) : OfSight(path, CardReader.Look(photo, seen => plans.GetValueOrDefault(PlannedFirst(seen)[0])?.File, request.Vision));
            }),
        ];

        SortedPhoto OfSight(string path, Outcome<PhotoSight> sight) => sight.IsRefused ? OfNumbers(path, sight.Refusal!, null) : OfNumbers(path, sight.Value.Numbers, sight.Value);

        SortedPhoto OfNumbers(string path, Outcome<ValueList<int>> numbers, PhotoSight? sight) =>
            numbers.IsRefused ? new(path, [], numbers.Refusal!.In(Path.GetFileName(path)), null) : new(path, PlannedFirst(numbers.Value), null, sight);

        ValueList<int> PlannedFirst(ValueList<int> numbers) => numbers.OrderByDescending(plans.ContainsKey).ToValueList();
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
    /// <param name="Sight">What it tells, where it was looked at already.</param>
    private sealed record SortedPhoto(string Path, ValueList<int> Numbers, Refusal? Refusal, PhotoSight? Sight);

    /// <summary>A plan and how it was named.</summary>
    private sealed record NamedPlan(string Name, PlanFile File);

    /// <summary>A card's photos.</summary>
    /// <param name="Numbers">Those of the first.</param>
    /// <param name="Request">How they are to be read.</param>
    /// <param name="Sights">What they tell, where they were looked at already.</param>
    private sealed record SortedCard(ValueList<int> Numbers, ReadRequest Request, ValueList<PhotoSight>? Sights);

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
