using CardScan.Model;

namespace CardScan.Web;

/// <summary>A browser that was let in.</summary>
/// <param name="Number">Tells it from others, from 1.</param>
/// <param name="Key">What it shows at each request; a secret.</param>
/// <param name="IsComputer">True for the computer that the page runs on.</param>
/// <param name="Device">What it calls itself: a branch of the message "web.phones.item".</param>
/// <param name="JoinedUtc">When it came, UTC.</param>
internal sealed record Guest(int Number, string Key, bool IsComputer, string Device, DateTimeOffset JoinedUtc)
{
    /// <summary>Whose it is, on the page of a workshop; null on a page of somebody's own.</summary>
    public Member? Member { get; init; }

    /// <summary>What may be done in it. On a page of somebody's own that is everything.</summary>
    public MemberRole Role => Member?.Role ?? MemberRole.Keep;

    /// <summary>True for a device that people hold over a card.</summary>
    public bool HasCamera => Member is null ? !IsComputer : Device is "iphone" or "ipad" or "android";

    /// <summary>Whether a role allows something.</summary>
    /// <param name="least">The role that it takes.</param>
    public bool May(MemberRole least) => Role >= least;

    /// <summary>What a browser says it runs on.</summary>
    /// <param name="userAgent">The header of its request; anybody may send anything.</param>
    public static string DeviceOf(string userAgent) => userAgent switch
    {
        _ when userAgent.Contains("iPhone", StringComparison.Ordinal) => "iphone",
        _ when userAgent.Contains("iPad", StringComparison.Ordinal) => "ipad",
        _ when userAgent.Contains("Android", StringComparison.Ordinal) => "android",
        _ when userAgent.Contains("Windows", StringComparison.Ordinal) => "windows",
        _ when userAgent.Contains("Macintosh", StringComparison.Ordinal) => "mac",
        _ when userAgent.Contains("Linux", StringComparison.Ordinal) => "linux",
        _ => "other",
    };
}
