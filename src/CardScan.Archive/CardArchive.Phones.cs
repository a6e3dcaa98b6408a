using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Phones whose tone curve is known by series of photos.</content>
public sealed partial class CardArchive
{
    /// <summary>Readings of a card that are looked at: older ones tell of a card that has faded since.</summary>
    private const int MostTried = 6;

    private PhoneKeeper PhoneKeeper => new(_database);

    /// <summary>The phones that are remembered, the one seen last first.</summary>
    public Outcome<ValueList<PhoneEntry>> Phones() => Guard<ValueList<PhoneEntry>>(() => PhoneKeeper.All());

    /// <summary>The curves that a phone's series told, each of another day, newest first; none where it is not remembered.</summary>
    /// <param name="camera">The phone, by the words of its files.</param>
    public Outcome<ValueList<PhotoResponse>> ResponsesOf(PhotoCamera camera)
    {
        ArgumentNullException.ThrowIfNull(camera);
        return Guard<ValueList<PhotoResponse>>(() => PhoneKeeper.ResponsesOf(camera));
    }

    /// <summary>
    /// The newest reading of a card whose photos told their tone curve, so that its darkness is known. Of a grey strip that no series has
    /// shown, its first reading of a single photo: all others can be brought to the tones of that. Null where there is neither.
    /// </summary>
    /// <param name="planSha256">Fingerprint of the card's plan.</param>
    public Outcome<Reading?> KnownDarkness(string planSha256)
    {
        ArgumentNullException.ThrowIfNull(planSha256);
        return Guard<Reading?>(() =>
            FirstOf(ReadingFinder.OfPlan(planSha256, MostTried), IsKnown)
            ?? FirstOf(ReadingFinder.FirstOfPlan(planSha256, MostTried), IsScale));

        Reading? FirstOf(IEnumerable<long> ids, Func<Reading, bool> isWanted) => ids
            .Select(id => CardJson.ReadReading(ReadingFinder.Json(id)))
            .FirstOrDefault(reading => !reading.IsRefused && isWanted(reading.Value))?.Value;

        static bool IsKnown(Reading reading) =>
            reading.Photos.Count > 0 && reading.Photos.All(photo => photo.Response?.Source == PhotoResponse.Series);

        static bool IsScale(Reading reading) => reading is { Plan.IsPrinted: true, Photos: [{ Response: null }] };
    }

    /// <summary>Forgets a phone; readings stay as they are.</summary>
    /// <param name="name">Its name in commands: <c>p2</c>.</param>
    public Outcome<PhoneEntry> ForgetPhone(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Changed(() => _database.Write<PhoneEntry>(() =>
        {
            if (!NameResolver.IsId(name, 'p', out long id) || PhoneKeeper.Forget(id) is not { } phone)
                return Refusal.OfInput(Codes.PhoneUnknown, ("name", name));
            DeedBook.Write(DeedKind.PhoneForgotten, phone.Camera.Name);
            return phone;
        }));
    }
}
