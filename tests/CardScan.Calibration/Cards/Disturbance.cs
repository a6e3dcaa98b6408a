namespace CardScan.Calibration;

/// <summary>What goes wrong on a card besides chance.</summary>
internal sealed record Disturbance(string Name)
{
    public static Disturbance None { get; } = new("");

    /// <summary>Probability that a cell is spoiled (a knot, a flame mark): its mark or its dose is off by up to 40 %.</summary>
    public double Spoiled { get; init; }

    /// <summary>Probability that a cell is flagged for glare and its value worthless; of a side, that it was not seen.</summary>
    public double Unseen { get; init; }

    /// <summary>True measuring error over the stated one.</summary>
    public double ErrorOverStated { get; init; } = 1;

    /// <summary>Degrees of freedom of Student's t that a cell's chance follows, its quartiles kept; null: normal.</summary>
    public int? TailFreedom { get; init; }

    /// <summary>A side that is held shows openings where it lacks less than this much ln dose; 0: it is closed.</summary>
    public double PartialWidth { get; init; }
}
