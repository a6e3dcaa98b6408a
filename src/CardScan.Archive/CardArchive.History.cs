using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>How machines changed.</content>
public sealed partial class CardArchive
{
    /// <summary>No description of what was done to a machine is longer, letters.</summary>
    private const int MostChangeLetters = 200;

    private HistoryKeeper HistoryKeeper => new(_database);

    /// <summary>The burned cards that were read, in the order in which they were.</summary>
    /// <param name="likeCard">Only those of this card's machine and process; null for all.</param>
    /// <param name="most">How many are given at most: the newest.</param>
    public Outcome<ValueList<MachineCard>> MachineCards(long? likeCard = null, int most = int.MaxValue) =>
        Guard<ValueList<MachineCard>>(() => HistoryKeeper.Cards(likeCard, most));

    /// <summary>Keeps what readings tell of the energy that their cards needed, so that it need not be counted again.</summary>
    /// <param name="told">By the reading's id.</param>
    public Outcome<int> KeepNeeds(IReadOnlyDictionary<long, ReadingNeed> told)
    {
        ArgumentNullException.ThrowIfNull(told);
        return Changed(() => _database.Write<int>(() =>
        {
            foreach ((long reading, ReadingNeed need) in told) HistoryKeeper.Keep(reading, need);
            return told.Count;
        }));
    }

    /// <summary>What was done to machines, in its order.</summary>
    public Outcome<ValueList<MachineChange>> MachineChanges() => Guard<ValueList<MachineChange>>(() => HistoryKeeper.Changes());

    /// <summary>Notes what was done to a machine: its cards are held against each other anew from then on.</summary>
    /// <param name="machineId">The machine, as <see cref="MachineCards"/> gives it.</param>
    /// <param name="on">When, by the clock of the workshop.</param>
    /// <param name="what">What was done.</param>
    public Outcome<MachineChange> AddMachineChange(long machineId, DateTime on, string what)
    {
        ArgumentNullException.ThrowIfNull(what);
        if (string.IsNullOrWhiteSpace(what) || what.Trim().Length > MostChangeLetters)
            return Refusal.OfInput(Codes.ChangeLength, ("most", MostChangeLetters));
        return Changed(() => _database.Write<MachineChange>(() =>
        {
            MachineChange change = HistoryKeeper.Add(machineId, on, what.Trim());
            DeedBook.Write(DeedKind.ChangeNoted, change.What);
            return change;
        }));
    }

    /// <summary>Takes it back.</summary>
    /// <param name="name">Its name in commands: <c>m3</c>.</param>
    public Outcome<MachineChange> RemoveMachineChange(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Changed(() => _database.Write<MachineChange>(() =>
        {
            if (!NameResolver.IsId(name, 'm', out long id) || HistoryKeeper.Remove(id) is not { } change)
                return Refusal.OfInput(Codes.ChangeUnknown, ("name", name));
            DeedBook.Write(DeedKind.ChangeRemoved, change.What);
            return change;
        }));
    }
}
