namespace CardScan.Model;

/// <summary>Where the setting for a new batch comes from.</summary>
public enum AnswerSource
{
    /// <summary>The later card's own reading recommends it.</summary>
    OwnReading,

    /// <summary>The first card's setting, unchanged.</summary>
    KeptSetting,

    /// <summary>The first card's setting, changed by the relative dose; not tested on the later card.</summary>
    CarriedOver,

    /// <summary>No setting is as probable as demanded: burn another card first.</summary>
    None,
}

/// <summary>The one setting to use now for the later batch, how sure it is, and why; or that there is none.</summary>
public sealed record BatchAnswer : Extensible
{
    /// <summary>Where the setting comes from.</summary>
    public required AnswerSource Source { get; init; }

    /// <summary>One of <see cref="Model.Goal"/>; what the probability is about.</summary>
    public required string Goal { get; init; }

    /// <summary>Speed, mm/min; absent where there is no setting.</summary>
    public double? SpeedMmPerMin { get; init; }

    /// <summary>Percent of full power; absent where there is no setting.</summary>
    public double? PowerPercent { get; init; }

    /// <summary>Passes; absent where there is no setting.</summary>
    public int? Passes { get; init; }

    /// <summary>Probability that the setting reaches the goal, 0 to 1, never below what is demanded; absent where there is none.</summary>
    public double? Confidence { get; init; }

    /// <summary>Probability demanded of a setting, 0 to 1.</summary>
    public required double DemandedConfidence { get; init; }

    /// <summary>
    /// Probability that the first card's setting, kept or carried over, reaches the goal, 0 to 1, by both cards and for photos
    /// taken alike; absent where nothing tells it.
    /// </summary>
    public double? TransferConfidence { get; init; }

    /// <summary>The answer, then why, sentence by sentence.</summary>
    public ValueList<Reason> Reasons { get; init => field = value ?? []; } = [];

    /// <summary>The answer in one sentence; empty where there is no text.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public string Lead => Reasons.Count > 0 ? Reasons[0].Message : "";

    /// <summary>Why, after the answer itself; empty where nothing is to be added.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public string Why => Reason.Text(Reasons.Skip(1));
}
