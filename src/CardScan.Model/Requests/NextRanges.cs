namespace CardScan.Model;

/// <summary>The settings of the next card, and what it is for.</summary>
public sealed record NextRanges
{
    /// <summary>Powers, percent, increasing: the columns.</summary>
    public required ValueList<double> PowersPercent { get; init; }

    /// <summary>Speeds, mm/min, increasing: the rows.</summary>
    public required ValueList<double> SpeedsMmPerMin { get; init; }

    /// <summary>Passes, focus and line interval of every cell; its power and speed are those the card is planned about.</summary>
    public required CellSettings About { get; init; }

    /// <summary>Why these ranges, and what to expect of them; codes in docs/messages.md, "Next card".</summary>
    public required ValueList<Advice> Notes { get; init; }

    /// <summary>What the card is expected to tell; absent where nothing is known yet that it could sharpen.</summary>
    public ExpectedLearning? Learning { get; init; }
}

/// <summary>How well a limit is known, and how well it is expected to be known after the next card.</summary>
/// <remarks>
/// The limit is a power at one speed: that at which half of the sides are through, or that which makes a full mark. Half
/// widths of 95 % intervals, percent of that power.
/// </remarks>
/// <param name="SpeedMmPerMin">The speed, mm/min.</param>
/// <param name="PowerPercent">The power, percent of full, by best estimate.</param>
/// <param name="NowPercent">Half width now.</param>
/// <param name="AlonePercent">Half width by the next card alone.</param>
/// <param name="TogetherPercent">Half width by all cards with the next one.</param>
/// <param name="AgainPercent">Half width were the newest card burned again instead.</param>
public sealed record ExpectedLearning(double SpeedMmPerMin, double PowerPercent, double NowPercent, double AlonePercent,
    double TogetherPercent, double AgainPercent);
