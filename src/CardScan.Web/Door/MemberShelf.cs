using System.Collections.Concurrent;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Members by what their browsers show: each is asked for many times in a few seconds.</summary>
/// <param name="archive">Knows them.</param>
/// <param name="clock">The time.</param>
internal sealed class MemberShelf(ArchivePlace archive, TimeProvider clock)
{
    /// <summary>What another process changed of a member is known here after that.</summary>
    private static readonly TimeSpan LongestHeld = TimeSpan.FromSeconds(5);

    /// <summary>Browsers that are held; with more, all are asked for anew.</summary>
    private const int MostHeld = 2000;

    private readonly ConcurrentDictionary<string, (Member Member, long At)> _held = new();

    /// <summary>The member whose browser shows a key; null where nobody's does.</summary>
    public Outcome<Member?> OfKey(string key)
    {
        if (_held.TryGetValue(key, out (Member Member, long At) held) && clock.GetElapsedTime(held.At) < LongestHeld) return held.Member;
        long now = clock.GetTimestamp();
        Outcome<Member?> known = archive.Members.OfKey(key);
        _held.TryRemove(key, out _);
        if (known is not { IsRefused: false, Value: { } member }) return known;
        if (_held.Count >= MostHeld) _held.Clear();
        _held[key] = (member, now);
        return member;
    }

    /// <summary>Somebody's role changed here, or they were sent away: everybody is asked for anew.</summary>
    public void Forget() => _held.Clear();
}
