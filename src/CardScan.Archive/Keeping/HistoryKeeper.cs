using System.Globalization;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// The cards of machines with what they needed, and what was done to machines. What it changes, it changes inside a transaction of its
/// caller.
/// </summary>
internal sealed class HistoryKeeper(Database database)
{
    private const string LocalTime = "yyyy-MM-ddTHH:mm:ss";

    /// <summary>The burned cards that were read, in the order of their newest current readings.</summary>
    /// <param name="likeCard">Only those of this card's machine and process; null for all.</param>
    /// <param name="most">How many are given at most: the newest.</param>
    public ValueList<MachineCard> Cards(long? likeCard, int most) => database.Query(
        $"""
        SELECT card.id, card.number, card.process, card.thickness_mm, card.wavelength_nm, material.name AS material, batch.name AS batch,
            machine.root AS machine_id, machine.name AS machine, machine.rated_optical_watts, reading.id AS reading_id, reading.read_utc,
            need.ln_energy, need.standard_error, need.speed_mm_per_min, need.speed_exponent, need.speed_exponent_error,
            need.manner, need.taken
        FROM card
        JOIN reading ON reading.id = (SELECT max(id) FROM reading WHERE card_id = card.id AND is_current = 1)
        JOIN material_kept AS material ON material.id = card.material_id
        JOIN machine_kept AS machine ON machine.id = card.machine_id
        LEFT JOIN batch_kept AS batch ON batch.id = card.batch_id
        LEFT JOIN need ON need.reading_id = reading.id AND need.version = {ReadingNeed.Version}
        WHERE machine.rated_optical_watts > 0 AND (CAST(@card AS BIGINT) IS NULL
            OR (machine.root, machine.rated_optical_watts, card.process) = (
            SELECT machine_kept.root, machine_kept.rated_optical_watts, card.process
            FROM card JOIN machine_kept ON machine_kept.id = card.machine_id WHERE card.id = @card))
        ORDER BY reading.id DESC LIMIT @most
        """, CardOf, ("card", likeCard), ("most", most)).AsEnumerable().Reverse().ToValueList();

    /// <summary>Keeps what a reading tells.</summary>
    public void Keep(long readingId, ReadingNeed told) => database.Execute(
        """
        INSERT INTO need (
            reading_id, version, ln_energy, standard_error, speed_mm_per_min, speed_exponent, speed_exponent_error, manner, taken)
        VALUES (@reading, @version, @ln, @error, @speed, @exponent, @exponentError, @manner, @taken)
        ON CONFLICT (reading_id) DO UPDATE SET version = excluded.version, ln_energy = excluded.ln_energy,
            standard_error = excluded.standard_error, speed_mm_per_min = excluded.speed_mm_per_min,
            speed_exponent = excluded.speed_exponent, speed_exponent_error = excluded.speed_exponent_error,
            manner = excluded.manner, taken = excluded.taken
        """,
        ("reading", readingId), ("version", ReadingNeed.Version), ("ln", told.Need?.LnEnergy),
        ("error", told.Need?.StandardError), ("speed", told.Need?.SpeedMmPerMin),
        ("exponent", told.Need?.SpeedExponent), ("exponentError", told.Need?.SpeedExponentError), ("manner", told.Manner),
        ("taken", told.Taken?.ToString(LocalTime, CultureInfo.InvariantCulture)));

    /// <summary>What was done to machines, in its order.</summary>
    public ValueList<MachineChange> Changes() => database.Query(
        """
        SELECT machine_change.id, machine.root, done_on, what
        FROM machine_change JOIN machine_kept AS machine ON machine.id = machine_id ORDER BY done_on, machine_change.id
        """, row => new MachineChange(row.Long("id"), row.Long("root"), LocalTimeOf(row.Text("done_on")), row.Text("what"))).ToValueList();

    /// <summary>Notes what was done to a machine.</summary>
    public MachineChange Add(long machineId, DateTime on, string what)
    {
        long id = database.Count(
            "INSERT INTO machine_change (machine_id, done_on, what) VALUES (@machine, @on, @what) RETURNING id",
            ("machine", machineId), ("on", on.ToString(LocalTime, CultureInfo.InvariantCulture)), ("what", what));
        return Changes().First(change => change.Id == id);
    }

    /// <summary>The same of a bundle, which may be imported again.</summary>
    public void AddOnce(long machineId, string doneOn, string what) => database.Execute(
        """
        INSERT INTO machine_change (machine_id, done_on, what) SELECT @machine, @on, @what
        WHERE NOT EXISTS (SELECT 1 FROM machine_change WHERE machine_id = @machine AND done_on = @on AND what = @what)
        """, ("machine", machineId), ("on", doneOn), ("what", what));

    /// <summary>Takes that back.</summary>
    /// <returns>What it was; null where there is none of that id.</returns>
    public MachineChange? Remove(long id)
    {
        MachineChange? change = Changes().FirstOrDefault(each => each.Id == id);
        database.Execute("DELETE FROM machine_change WHERE id = @id", ("id", id));
        return change;
    }

    private static MachineCard CardOf(StoredRow row) => new()
    {
        MachineId = row.Long("machine_id"),
        Machine = new()
        {
            Name = row.Text("machine"), RatedOpticalWatts = row.Real("rated_optical_watts"), WavelengthNm = row.RealOrNull("wavelength_nm"),
        },
        CardId = row.Long("id"),
        Number = row.Int("number"),
        Process = StoredValue.Value<Process>(row.Text("process")),
        Material = new()
        {
            Name = row.Text("material"), ThicknessMm = row.RealOrNull("thickness_mm"), Batch = row.TextOrNull("batch"),
        },
        ReadingId = row.Long("reading_id"),
        ReadUtc = Database.Time(row.Text("read_utc")),
        Told = row.TextOrNull("manner") is { } manner ? new(NeedOf(row), manner, TakenOf(row)) : null,
    };

    private static EnergyNeed? NeedOf(StoredRow row) => row.RealOrNull("ln_energy") is { } ln
        ? new(ln, row.Real("standard_error"), row.Real("speed_mm_per_min"), row.Real("speed_exponent"), row.Real("speed_exponent_error"))
        : null;

    private static DateTime? TakenOf(StoredRow row) => row.TextOrNull("taken") is { } text ? LocalTimeOf(text) : null;

    /// <summary>A stored time by the clock of the workshop, if it is one.</summary>
    public static bool TryLocalTime(string text, out DateTime time) =>
        DateTime.TryParseExact(text, LocalTime, CultureInfo.InvariantCulture, DateTimeStyles.None, out time);

    private static DateTime LocalTimeOf(string text) =>
        TryLocalTime(text, out DateTime time) ? time : throw new InvalidDataException($"\"{text}\" is no stored time");
}
