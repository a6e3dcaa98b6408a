namespace CardScan.Model;

/// <summary>Where a card lies on the chart; all in ln of energy against what the first cards of its kind needed.</summary>
/// <param name="Ln">How much more it needed; negative where less.</param>
/// <param name="StandardError">Of that, by the card's own cells.</param>
public sealed record NeedPoint(double Ln, double StandardError)
{
    /// <summary>How far a card may lie from 0 by chance; null while too few cards were burned to tell.</summary>
    public double? Limit { get; init; }

    /// <summary>The running mean with this card, and how far that may lie from 0; null for the cards that the limits come from.</summary>
    public (double Ln, double Limit)? Mean { get; init; }

    /// <summary>True where chance does not explain this card.</summary>
    public bool IsOutside => Math.Abs(Ln) > Limit;

    /// <summary>True where chance does not explain the running mean, and this card lies on the mean's side.</summary>
    public bool IsDrifting => Mean is { } mean && Math.Abs(mean.Ln) > mean.Limit && Ln * mean.Ln > 0;

    /// <summary>True where chance does not explain the card, or those before with it.</summary>
    public bool IsUnexplained => IsOutside || IsDrifting;
}

/// <summary>A change that still lasts.</summary>
/// <param name="Since">Index of the first card that shows it.</param>
/// <param name="Energy">How much more energy is needed since, as a factor; 95 % interval.</param>
/// <param name="Kinds">Kinds of cards that show it.</param>
public sealed record NeedChange(int Since, Interval Energy, int Kinds);

/// <summary>How a machine's need of energy changed over its cards.</summary>
/// <param name="Points">One a card, in their order; null where no other card of its kind says what to expect.</param>
/// <param name="Missing">How many more cards of kinds burned before it takes until limits are limits; 0 where they are.</param>
/// <param name="Change">The change that the newest card shows; null where chance explains it.</param>
public sealed record NeedHistory(ValueList<NeedPoint?> Points, int Missing, NeedChange? Change)
{
    /// <summary>Cards of one kind before which limits are not shown; of several kinds it takes one more for each further kind.</summary>
    public const int LeastCards = 8;
}
