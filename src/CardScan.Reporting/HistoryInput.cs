using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A machine's history as its page has it.</summary>
/// <param name="Heading">The machine, and what it did.</param>
/// <param name="State">What its cards tell, one sentence a line.</param>
/// <param name="Dots">The cards in the order in which they were burned.</param>
public sealed record HistoryInput(string Heading, ValueList<string> State, ValueList<HistoryDot> Dots);

/// <summary>A card on the chart of a machine; all factors are over the energy that the first cards of its kind needed.</summary>
/// <param name="Day">When it was burned.</param>
/// <param name="Name">The card and its material.</param>
/// <param name="Reading">The reading's name in commands.</param>
/// <param name="Energy">The energy that it needed, with its 95 % interval; null where no other card says what to expect.</param>
public sealed record HistoryDot(string Day, string Name, string Reading, Interval? Energy)
{
    /// <summary>How far it may lie from 1 by chance, as a factor above 1; null while too few cards were burned to tell.</summary>
    public double? Limit { get; init; }

    /// <summary>The running mean with its limits about 1; null for the cards that the limits come from.</summary>
    public Interval? Mean { get; init; }

    /// <summary>True where chance does not explain it, or the running mean with it.</summary>
    public bool IsOutside { get; init; }

    /// <summary>What had been done to the machine just before; null where nothing was noted.</summary>
    public string? After { get; init; }
}
