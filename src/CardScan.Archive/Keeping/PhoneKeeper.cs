using CardScan.Model;

namespace CardScan.Archive;

/// <summary>The phones whose tone curves series of photos told. What it changes, it changes inside a transaction of its caller.</summary>
internal sealed class PhoneKeeper(Database database)
{
    /// <summary>Older series than the newest ones of a phone tell hardly more.</summary>
    private const int MostSeries = 8;

    private const string Words = "make = @make AND model = @model AND lens = @lens AND software = @software";

    /// <summary>Remembers the series of a reading that was just kept: of one day the newest reading counts.</summary>
    /// <param name="readingId">The reading.</param>
    /// <param name="reading">What it holds.</param>
    /// <param name="readUtc">When it was read, for photos that do not say when they were taken.</param>
    public void Remember(long readingId, Reading reading, string readUtc)
    {
        foreach (PhotoRecord photo in reading.Photos.Where(TellsOfPhone).DistinctBy(photo => photo.Camera))
        {
            database.Execute(
                """
                INSERT INTO phone (make, model, lens, software) VALUES (@make, @model, @lens, @software) ON CONFLICT DO NOTHING
                """, ValuesOf(photo.Camera!));
            database.Execute(
                """
                INSERT INTO tone_series (phone_id, day, reading_id) VALUES (@phone, @day, @reading)
                ON CONFLICT (phone_id, day) DO UPDATE SET reading_id = excluded.reading_id
                """,
                ("phone", IdOf(photo.Camera!)), ("reading", readingId),
                ("day", photo.Taken is { } taken ? $"{taken:yyyy-MM-dd}" : readUtc[..10]));
        }
    }

    /// <summary>All phones, the one seen last first.</summary>
    public ValueList<PhoneEntry> All() => database.Query(
        """
        SELECT id, make, model, lens, software FROM phone JOIN tone_series ON phone_id = id
        GROUP BY id ORDER BY max(day) DESC, id DESC
        """, row => (Id: row.Long("id"), Camera: CameraOf(row))).Select(phone => Entry(phone.Id, phone.Camera)).ToValueList();

    /// <summary>What the newest series of a phone told, newest first.</summary>
    public ValueList<PhotoResponse> ResponsesOf(PhotoCamera camera) =>
        IsNamed(camera) && IdOf(camera) is { } id ? Entry(id, camera).Series.Select(series => series.Response).ToValueList() : [];

    /// <summary>Forgets a phone; its readings stay.</summary>
    /// <returns>What was forgotten; null where there is no such phone.</returns>
    public PhoneEntry? Forget(long id)
    {
        PhoneEntry? phone = All().FirstOrDefault(each => each.Id == id);
        database.Execute("DELETE FROM phone WHERE id = @id", ("id", id));
        return phone;
    }

    private long? IdOf(PhotoCamera camera) => database.Number($"SELECT id FROM phone WHERE {Words}", ValuesOf(camera));

    private PhoneEntry Entry(long id, PhotoCamera camera) => new(id, camera, database.Query(
        "SELECT day, reading_id FROM tone_series WHERE phone_id = @id ORDER BY day DESC LIMIT @most",
        row => (Day: row.Text("day"), ReadingId: row.Long("reading_id")), ("id", id), ("most", MostSeries))
        .Select(series => SeriesIn(series.Day, series.ReadingId, camera)).OfType<PhoneSeries>().ToValueList());

    private PhoneSeries? SeriesIn(string day, long readingId, PhotoCamera camera)
    {
        Outcome<Reading> reading = CardJson.ReadReading(new ReadingFinder(database, files: null).Json(readingId));
        PhotoRecord? photo = reading.IsRefused
            ? null
            : reading.Value.Photos.FirstOrDefault(photo => TellsOfPhone(photo) && WordsOf(photo.Camera!) == WordsOf(camera));
        return photo is null ? null : new(day, readingId, photo.Response!);
    }

    private static bool TellsOfPhone(PhotoRecord photo) =>
        photo is { Response: { Source: PhotoResponse.Series, Covariance.Count: > 0 }, Camera: { } camera } && IsNamed(camera);

    /// <summary>Without its model, any other phone might be meant.</summary>
    private static bool IsNamed(PhotoCamera camera) => camera.Model is not null;

    private static (string Make, string Model, string Lens, string Software) WordsOf(PhotoCamera camera) =>
        (camera.Make ?? "", camera.Model ?? "", camera.Lens ?? "", camera.Software ?? "");

    private static (string Name, object? Value)[] ValuesOf(PhotoCamera camera)
    {
        (string make, string model, string lens, string software) = WordsOf(camera);
        return [("make", make), ("model", model), ("lens", lens), ("software", software)];
    }

    private static PhotoCamera CameraOf(StoredRow row)
    {
        return new() { Make = Word("make"), Model = Word("model"), Lens = Word("lens"), Software = Word("software") };

        string? Word(string column) => row.Text(column) is { Length: > 0 } word ? word : null;
    }
}
