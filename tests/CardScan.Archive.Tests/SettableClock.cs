namespace CardScan.Archive.Tests;

/// <summary>A clock that stands until it is moved.</summary>
internal sealed class SettableClock : TimeProvider
{
    internal DateTimeOffset Now { get; set; } = new(2026, 3, 1, 12, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;
}
