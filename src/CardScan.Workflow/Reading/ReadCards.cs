using System.Threading.Tasks.Dataflow;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>Photos to readings to recommendations to reports, kept in the archive.</summary>
/// <remarks>
/// Each photo is opened once, measured with the plan of each card that it shows, and closed; then each card is put together from
/// its photos. A bad photo or card never stops the others. Memory grows with the photos that are read at once, not with all of them.
/// </remarks>
public static class ReadCards
{
    /// <summary>Reads the cards. Of each, nothing is written unless all of it succeeded.</summary>
    /// <param name="request">The photos, and how they are to be read.</param>
    /// <param name="progress">Told how far it is; by several threads.</param>
    /// <returns>
    /// What was read and what not; or why nothing was even tried. An archive that cannot keep a reading spoils neither: that is
    /// told in <see cref="ReadResult.Kept"/>.
    /// </returns>
    /// <exception cref="ArgumentNullException">There is no request.</exception>
    public static Outcome<ReadCardsResult> Run(ReadRequest request, IProgress<ReadProgress>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        Task preparing = CardReader.Prepare();
        try
        {
            Outcome<PlanBook> plans = PlanBook.Of(request);
            if (plans.IsRefused) return plans.Refusal!;
            using PictureShelf shelf = new();
            Count count = new(request.Photos.Count, progress);
            MeasuredPhoto[] photos = Measure(request, plans.Value, shelf, count);
            return CardsOf(photos, request, count);
        }
        finally
        {
            // A process must not end in the middle of native code.
            Task.WaitAny(preparing);
        }
    }

    /// <summary>Opens and measures the photos side by side, in their order.</summary>
    private static MeasuredPhoto[] Measure(ReadRequest request, PlanBook plans, PictureShelf shelf, Count count)
    {
        ToneBook tones = ToneBook.Of(request);
        return [.. request.Photos.AsParallel().AsOrdered().WithDegreeOfParallelism(DecodeSlots.Most).Select(path =>
        {
            using IDisposable place = DecodeSlots.Enter();
            count.Begins(path);
            return MeasuredPhoto.Of(path, request, plans, tones, shelf);
        }).AsSequential().SelectMany(cards => cards)];
    }

    /// <summary>Puts the cards together, a few at once, and writes them in their order.</summary>
    private static ReadCardsResult CardsOf(MeasuredPhoto[] photos, ReadRequest request, Count count)
    {
        MeasuredPhoto[][] cards =
            [.. photos.Where(photo => photo.Card is not null).GroupBy(photo => photo.Card).Select(card => card.ToArray())];
        ReadRequest each = cards.Length > 1 ? request.AsOneOfSeveral() : request;
        List<ReadResult> results = [];
        IEnumerable<MeasuredPhoto> without = photos.Where(photo => photo.Card is null);
        List<RefusedPhoto> refused = [.. without.Select(photo => new RefusedPhoto(photo.Name, photo.View.Refusal!.In(photo.Name)))];
        CardsOfRun run = new(cards.Length);
        (int Index, MeasuredPhoto[] Item)[] places = [.. cards.Index()];
        foreach (((int _, MeasuredPhoto[] card), Outcome<ReadCard> read) in InOrder(places, card => Read(card.Index, card.Item)))
        {
            Outcome<ReadResult> result = read.IsRefused ? read.Refusal! : read.Value.Write(each);
            if (result.IsRefused) refused.Add(new(string.Join(", ", card.Select(photo => photo.NameOfCard)), result.Refusal!));
            else results.Add(result.Value);
        }

        return new(results.ToValueList(), refused.ToValueList());

        Outcome<ReadCard> Read(int place, MeasuredPhoto[] card)
        {
            try
            {
                Outcome<ReadCard> read = ReadCard.Of(card, each, count.Begins, reading => run.Before(place, reading));
                return read.IsRefused ? read : read.Value.WithPictures()!;
            }
            finally
            {
                run.Leave(place);
            }
        }
    }

    /// <summary>Works on several items at once and gives the results in the items' order; no more wait than are worked on.</summary>
    private static IEnumerable<(TItem Item, TResult Result)> InOrder<TItem, TResult>(IReadOnlyList<TItem> items, Func<TItem, TResult> work)
    {
        TransformBlock<TItem, (TItem, TResult)> block = new(
            item => (item, work(item)),
            new() { MaxDegreeOfParallelism = DecodeSlots.Most, BoundedCapacity = 2 * DecodeSlots.Most, EnsureOrdered = true });
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

    /// <summary>Counts photos as they are begun: what is told of the other steps moves nothing.</summary>
    private sealed class Count(int total, IProgress<ReadProgress>? progress)
    {
        private int _done;

        public void Begins(string path) =>
            progress?.Report(new(ReadStep.Measuring, Interlocked.Increment(ref _done), total, Path.GetFileName(path)));

        public void Begins(ReadStep step) => progress?.Report(new(step, Volatile.Read(ref _done), total));
    }
}
