using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Phones whose tone curve is known by series of photos.</content>
public sealed partial class CardArchive
{
    private PhoneKeeper PhoneKeeper => new(_database.Connection);

    /// <summary>The phones that are remembered, the one seen last first.</summary>
    public Outcome<ValueList<PhoneEntry>> Phones() => Guard<ValueList<PhoneEntry>>(() => PhoneKeeper.All());

    /// <summary>The curves that a phone's series told, each of another day, newest first; none where it is not remembered.</summary>
    /// <param name="camera">The phone, by the words of its files.</param>
    public Outcome<ValueList<PhotoResponse>> ResponsesOf(PhotoCamera camera)
    {
        ArgumentNullException.ThrowIfNull(camera);
        return Guard<ValueList<PhotoResponse>>(() => PhoneKeeper.ResponsesOf(camera));
    }

    /// <summary>Forgets a phone; readings stay as they are.</summary>
    /// <param name="name">Its name in commands: <c>p2</c>.</param>
    public Outcome<PhoneEntry> ForgetPhone(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Changed(() => _database.Write(() => PhoneEntry.IdIn(name) is { } id && PhoneKeeper.Forget(id) is { } phone
            ? phone
            : (Outcome<PhoneEntry>)Refusal.OfInput(Codes.PhoneUnknown, ("name", name))));
    }
}
