using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.History;

namespace CardScan.Workflow;

/// <summary>A card of a machine's history.</summary>
/// <param name="Card">The card.</param>
/// <param name="On">When its last photo was taken, or else when it was read; by the clock of the workshop.</param>
/// <param name="Point">Where it lies; null where no other card says what to expect of it.</param>
public sealed record HistoryRow(MachineCard Card, DateTime On, NeedPoint? Point);

/// <summary>A lasting change of a machine's need of energy.</summary>
/// <param name="Change">Its size, and since which row.</param>
/// <param name="First">The first card that shows it.</param>
/// <param name="Cause">What it may be: "machine", "delivery" or "either".</param>
/// <param name="Again">The card that would tell which, burned again; null where that is a focus ladder.</param>
public sealed record MachineDrift(NeedChange Change, HistoryRow First, string Cause, MachineCard? Again);

/// <summary>What a machine burned until something was done to it.</summary>
/// <param name="After">What had been done before; null where nothing was noted.</param>
/// <param name="Rows">The cards in the order in which they were burned.</param>
/// <param name="Chart">Their chart.</param>
/// <param name="Drift">The change that the newest card shows; null where chance explains it.</param>
public sealed record MachineStretch(MachineChange? After, ValueList<HistoryRow> Rows, NeedHistory Chart, MachineDrift? Drift);

/// <summary>How one process of a machine changed.</summary>
/// <param name="Machine">The machine.</param>
/// <param name="MachineId">Its row in the archive.</param>
/// <param name="Process">Engrave or cut.</param>
/// <param name="Stretches">One or more, in their order; the last is today's.</param>
public sealed record MachineHistory(Machine Machine, long MachineId, Process Process, ValueList<MachineStretch> Stretches)
{
    /// <summary>Today's stretch.</summary>
    public MachineStretch Newest => Stretches[^1];
}

/// <summary>How the machines of an archive changed over their cards (docs/method/history.md).</summary>
/// <param name="Machines">Each process of each machine, the one that was read last first.</param>
/// <param name="Changes">What was done to these machines, in its order.</param>
public sealed record HistoryBook(ValueList<MachineHistory> Machines, ValueList<MachineChange> Changes)
{
    /// <summary>Where a card was just read: no more cards are looked at, and no more counted, so that nobody waits for it.</summary>
    private const int MostBesideCard = 500, MostCountedBesideCard = 24;

    /// <summary>The histories of all machines, or of one.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="machine">Its name, or its name with what tells it from others of that name; null for all.</param>
    public static Outcome<HistoryBook> Of(ArchivePlace place, string? machine)
    {
        ArgumentNullException.ThrowIfNull(place);
        return place.Use<HistoryBook>(archive =>
        {
            Outcome<ValueList<MachineCard>> cards = archive.MachineCards();
            if (cards.IsRefused) return cards.Refusal!;
            Outcome<HistoryBook> all = Charted(archive, place.Clock, Told(archive, cards.Value));
            if (all.IsRefused || machine is null) return all;
            ValueList<MachineHistory> found = ArchiveNames.Named(all.Value.Machines, each => each.Machine, machine).ToValueList();
            return found.Count > 0
                ? all.Value with { Machines = found, Changes = ChangesTo(found, all.Value.Changes) }
                : Refusal.OfInput(Codes.HistoryUnknown, ("name", machine), ("count", all.Value.Machines.Count),
                    ("machines", Figures.List(all.Value.Machines.Select(each => Voice.Tell(each.Machine.ToFigure())).Distinct())));
        });
    }

    /// <summary>Notes what was done to a machine: its cards are held against each other anew from then on.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="machine">As <see cref="Of"/> has it; null where the archive has one machine only.</param>
    /// <param name="what">What was done.</param>
    /// <param name="on">When, by the clock of the workshop; null for now.</param>
    public static Outcome<MachineChange> AddChange(ArchivePlace place, string? machine, string what, DateTime? on)
    {
        Outcome<HistoryBook> book = Of(place, machine);
        if (book.IsRefused) return book.Refusal!;
        MachineHistory[] named = [.. book.Value.Machines.DistinctBy(each => each.MachineId)];
        if (named.Length != 1)
            return Refusal.OfInput(Codes.HistoryWhich, ("count", named.Length),
                ("machines", Figures.List(named.Select(each => (Figure)each.Machine.ToFigure()))));
        DateTime now = place.Clock.GetLocalNow().DateTime;
        return on > now
            ? Refusal.OfInput(Codes.ChangeFuture, ("day", $"{on:yyyy-MM-dd}"))
            : place.Use(archive => archive.AddMachineChange(named[0].MachineId, on ?? now, what));
    }

    /// <summary>Takes that back.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="name">Its name: <c>m3</c>.</param>
    public static Outcome<MachineChange> RemoveChange(ArchivePlace place, string name)
    {
        ArgumentNullException.ThrowIfNull(place);
        return place.Use(archive => archive.RemoveMachineChange(name));
    }

    /// <summary>What a card that was just read shows of its machine; null where that is nothing, or cannot be told.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="cardId">The card.</param>
    public static Warning? DriftOn(ArchivePlace place, long cardId)
    {
        ArgumentNullException.ThrowIfNull(place);
        Outcome<HistoryBook> book = place.Use(archive => Beside(archive, place.Clock, cardId));
        if (book is not { IsRefused: false, Value.Machines: [var history] }) return null;
        MachineStretch stretch = history.Newest;
        return stretch.Drift is { } drift && stretch.Rows[^1].Card.CardId == cardId
            ? HistoryWords.Warn(history.Machine, drift)
            : null;
    }

    /// <summary>The history of a card's machine and process; empty while too few cards were burned, or too few counted.</summary>
    private static Outcome<HistoryBook> Beside(CardArchive archive, TimeProvider clock, long cardId)
    {
        Outcome<ValueList<MachineCard>> cards = archive.MachineCards(cardId, MostBesideCard);
        if (cards.IsRefused) return cards.Refusal!;
        if (cards.Value.Count <= NeedHistory.LeastCards) return Charted(archive, clock, []);
        ValueList<MachineCard> uncounted = cards.Value.Where(card => card.Told is null).TakeLast(MostCountedBesideCard + 1).ToValueList();
        if (uncounted.Count <= MostCountedBesideCard) return Charted(archive, clock, Told(archive, cards.Value));
        Told(archive, uncounted);
        return Charted(archive, clock, []);
    }

    private static Outcome<HistoryBook> Charted(CardArchive archive, TimeProvider clock, MachineCard[] cards)
    {
        Outcome<ValueList<MachineChange>> changes = archive.MachineChanges();
        if (changes.IsRefused) return changes.Refusal!;
        ValueList<MachineHistory> machines = OneMachine(cards).GroupBy(card => (card.MachineId, card.Machine, card.Process))
            .OrderByDescending(machine => machine.Max(card => card.ReadingId))
            .Select(machine => HistoryOf([.. machine], changes.Value, clock)).ToValueList();
        return new HistoryBook(machines, ChangesTo(machines, changes.Value));
    }

    /// <summary>The cards with what they tell; what had to be counted is kept where the archive can be written.</summary>
    private static MachineCard[] Told(CardArchive archive, ValueList<MachineCard> cards)
    {
        Dictionary<long, Reading> unknown = [];
        foreach (MachineCard card in cards.Where(card => card.Told is null))
            if (archive.Reading(card.ReadingId) is { IsRefused: false } reading) unknown[card.ReadingId] = reading.Value;
        if (unknown.Count == 0) return [.. cards];
        Dictionary<long, ReadingNeed> counted = unknown.AsParallel().Select(each => (each.Key, Need: CardNeed.Of(each.Value)))
            .ToDictionary(each => each.Key, each => each.Need);
        archive.KeepNeeds(counted);
        return [.. cards.Select(card => card.Told is null ? card with { Told = counted.GetValueOrDefault(card.ReadingId) } : card)];
    }

    /// <summary>A plan that does not tell the wavelength is the machine's whose other plans do, where those agree.</summary>
    private static IEnumerable<MachineCard> OneMachine(MachineCard[] cards) => cards.GroupBy(card => card.MachineId).SelectMany(machine =>
    {
        double?[] told = [.. machine.Select(card => card.Machine.WavelengthNm).Where(nm => nm is not null).Distinct()];
        return machine.Select(card => card with
        {
            Machine = card.Machine with { WavelengthNm = card.Machine.WavelengthNm ?? (told is [var only] ? only : null) },
        });
    });

    private static MachineHistory HistoryOf(MachineCard[] cards, ValueList<MachineChange> changes, TimeProvider clock)
    {
        (MachineCard Card, DateTime On)[] dated = [.. cards.Select(card => (card, On(card, clock))).OrderBy(each => each.Item2)];
        MachineChange?[] starts = [null, .. changes.Where(change => change.MachineId == cards[0].MachineId)];
        MachineStretch[] stretches = [.. starts.Select((start, i) => StretchOf(start,
            [.. dated.Where(each => (start is null || each.On >= start.On) && (i + 1 == starts.Length || each.On < starts[i + 1]!.On))]))];
        MachineStretch[] burned = [.. stretches.Where(stretch => stretch.Rows.Count > 0 || stretch.After is not null)];
        return new(cards[0].Machine, cards[0].MachineId, cards[0].Process, burned.ToValueList());
    }

    private static DateTime On(MachineCard card, TimeProvider clock) =>
        card.Told?.Taken ?? TimeZoneInfo.ConvertTime(card.ReadUtc, clock.LocalTimeZone).DateTime;

    private static MachineStretch StretchOf(MachineChange? after, (MachineCard Card, DateTime On)[] cards)
    {
        cards = [.. cards.Where(each => each.Card.Told?.Need is not null)];
        NeedHistory chart = NeedChart.Of(cards.Select(each => new ChartedCard(KindOf(each.Card), each.Card.Told!.Need!)).ToValueList());
        ValueList<HistoryRow> rows = cards.Select((each, i) => new HistoryRow(each.Card, each.On, chart.Points[i])).ToValueList();
        return new(after, rows, chart, chart.Change is { } change ? DriftOf(change, rows) : null);
    }

    /// <summary>Several materials are hardly all of a new delivery; of one, cards of another delivery leave it open.</summary>
    private static MachineDrift DriftOf(NeedChange change, ValueList<HistoryRow> rows)
    {
        HistoryRow first = rows[change.Since];
        if (change.Kinds > 1) return new(change, first, "machine", null);
        MachineCard[] before = [.. rows.Take(change.Since).Select(row => row.Card)];
        string kind = KindOf(first.Card);
        if (first.Card.Material.Batch is { } batch
            && before.LastOrDefault(card => KindOf(card) == kind && !MakerName.AreSame(card.Material.Batch, batch)) is { } old
            && !before.Any(card => KindOf(card) == kind && MakerName.AreSame(card.Material.Batch, batch)))
            return new(change, first, "delivery", old);
        return new(change, first, "either", before.LastOrDefault(card => KindOf(card) != kind));
    }

    private static string KindOf(MachineCard card) =>
        $"{ArchiveNames.KeyOf(card.Material.Name, card.Material.ThicknessMm)} {card.Told!.Manner}";

    private static ValueList<MachineChange> ChangesTo(ValueList<MachineHistory> machines, ValueList<MachineChange> changes) =>
        changes.Where(change => machines.Any(machine => machine.MachineId == change.MachineId)).ToValueList();
}
