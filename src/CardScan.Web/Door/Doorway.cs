using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>Who may come in: codes that are shown, and the keys that browsers get for them.</summary>
/// <remarks>
/// Codes and keys have 128 random bits and live no longer than the process. A phone's code is good for one phone and a few
/// minutes, so that a picture of the screen lets nobody in later.
/// </remarks>
internal sealed class Doorway(TimeProvider clock)
{
    /// <summary>How long a phone's code is good.</summary>
    public static readonly TimeSpan CodeLife = TimeSpan.FromMinutes(10);

    private readonly Lock _lock = new();
    private readonly HashSet<string> _openingCodes = [];
    private ImmutableArray<Guest> _guests = [];
    private (string Code, DateTimeOffset MadeUtc) _phoneCode;
    private int _count;

    /// <summary>The code that a terminal shows: good for browsers of this computer as long as the process runs.</summary>
    public string ComputerCode { get; } = Secret.New();

    /// <summary>Everybody who is in, in the order of coming.</summary>
    public ImmutableArray<Guest> Guests => _guests;

    /// <summary>A code that lets one browser of this computer in, once: other people may see it in the list of processes.</summary>
    public string NewOpeningCode()
    {
        string code = Secret.New();
        lock (_lock) _openingCodes.Add(code);
        return code;
    }

    /// <summary>The code that lets the next phone in.</summary>
    public string PhoneCode()
    {
        lock (_lock)
        {
            if (_phoneCode.Code is null || clock.GetUtcNow() - _phoneCode.MadeUtc >= CodeLife) RenewPhoneCode();
            return _phoneCode.Code!;
        }
    }

    /// <summary>Lets a browser in.</summary>
    /// <param name="code">The code that it shows.</param>
    /// <param name="isComputer">True where it came by the computer's own address.</param>
    /// <param name="userAgent">What it calls itself.</param>
    /// <returns>The guest; null where the code is none, or no more.</returns>
    public Guest? Enter(string code, bool isComputer, string userAgent)
    {
        lock (_lock)
        {
            if (!IsGood(code, isComputer)) return null;
            if (!isComputer) RenewPhoneCode();
            Guest guest = new(++_count, Secret.New(), isComputer, Guest.DeviceOf(userAgent), clock.GetUtcNow());
            _guests = _guests.Add(guest);
            return guest;
        }
    }

    /// <summary>The guest with a key; null where nobody has it.</summary>
    /// <param name="key">What the browser shows.</param>
    /// <param name="isComputer">True where it came by the computer's own address; a phone's key opens nothing there.</param>
    public Guest? Know(string? key, bool isComputer) =>
        key is null ? null : _guests.FirstOrDefault(guest => guest.IsComputer == isComputer && AreSame(guest.Key, key));

    /// <summary>True for a guest who was not sent away.</summary>
    public bool IsIn(Guest guest) => _guests.Contains(guest);

    /// <summary>Sends a phone away: its key opens nothing any more.</summary>
    public void SendAway(int number)
    {
        lock (_lock) _guests = _guests.RemoveAll(guest => guest.Number == number && !guest.IsComputer);
    }

    private bool IsGood(string code, bool isComputer)
    {
        if (isComputer) return AreSame(ComputerCode, code) || _openingCodes.Remove(code);
        return _phoneCode.Code is { } known && clock.GetUtcNow() - _phoneCode.MadeUtc < CodeLife && AreSame(known, code);
    }

    private void RenewPhoneCode() => _phoneCode = (Secret.New(), clock.GetUtcNow());

    private static bool AreSame(string secret, string shown) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(secret), Encoding.UTF8.GetBytes(shown));
}
