namespace CardScan.Model;

/// <summary>How far a setting of the archive may be relied on today.</summary>
public enum SettingStanding
{
    /// <summary>It reaches the demanded probability, and no newer card of its batch speaks against it.</summary>
    Sure,

    /// <summary>It is less probable than what is demanded, or that was not stated: it is no setting yet.</summary>
    Unsure,

    /// <summary>A cut with energy enough that bridges hold, which more energy does not cure.</summary>
    Bridged,

    /// <summary>A newer card of the same batch found no sure setting for the goal.</summary>
    Overtaken,
}

/// <summary>What another card says of a setting.</summary>
public enum CardOpinion
{
    /// <summary>Its own setting has about the same energy.</summary>
    Agrees,

    /// <summary>Its own setting has clearly less or more energy.</summary>
    Differs,

    /// <summary>It has no sure setting for the goal.</summary>
    FoundNone,
}

/// <summary>Another card of the same material, thickness, machine and goal.</summary>
public sealed record OtherCard
{
    /// <summary>The number in its markers.</summary>
    public required int Number { get; init; }

    /// <summary>The delivery of its material; null where none was named.</summary>
    public string? Batch { get; init; }

    /// <summary>Its reading.</summary>
    public required long ReadingId { get; init; }

    /// <summary>When that was read, UTC.</summary>
    public required DateTimeOffset ReadUtc { get; init; }

    /// <summary>What it says.</summary>
    public required CardOpinion Opinion { get; init; }

    /// <summary>True where it was read after the card of the setting.</summary>
    public required bool IsNewer { get; init; }

    /// <summary>True where it is of the same delivery, or both name none.</summary>
    public required bool IsSameBatch { get; init; }

    /// <summary>Its own setting: speed, mm/min, and percent of full power; null where it has no sure one.</summary>
    public (double SpeedMmPerMin, double PowerPercent)? Setting { get; init; }

    /// <summary>Name of the reading in commands.</summary>
    public string ReadingName => ReadingEntry.NameOf(ReadingId);
}

/// <summary>The newest setting for a goal on one machine, material and thickness, with what the other cards say of it.</summary>
public sealed record KeptSetting
{
    /// <summary>
    /// Two cards agree where the energies of their settings differ by no more than this factor (chosen here: what deliveries of one
    /// name differ by, one standard deviation, as the first card is planned).
    /// </summary>
    public const double AgreeingFactor = 1.25;

    /// <summary>The card that it comes from, with material, thickness, process and batch.</summary>
    public required CardEntry Card { get; init; }

    /// <summary>
    /// The machine under the name that it is kept under. Another optical power, wavelength or beam is another machine's; what a
    /// plan does not tell is taken from its other cards where those agree.
    /// </summary>
    public required Machine Machine { get; init; }

    /// <summary>The air that the card was burned with; null where its plan does not tell.</summary>
    public AirAssist? Air { get; init; }

    /// <summary>The reading: the newest current one that recommends a setting for the goal.</summary>
    public required long ReadingId { get; init; }

    /// <summary>When that was read, UTC.</summary>
    public required DateTimeOffset ReadUtc { get; init; }

    /// <summary>The setting with its goal, reason, probability and interval.</summary>
    public required RecommendationEntry Recommendation { get; init; }

    /// <summary>How far it may be relied on.</summary>
    public required SettingStanding Standing { get; init; }

    /// <summary>What to do about the bridges that hold a cut; null where none do.</summary>
    public Advice? Bridges { get; init; }

    /// <summary>The other cards that agree, newest first, and of each batch what its newest card says against it.</summary>
    public ValueList<OtherCard> Others { get; init; } = [];

    /// <summary>True where it may be called a setting.</summary>
    public bool IsSetting => Standing == SettingStanding.Sure;

    /// <summary>The cards that agree.</summary>
    public IEnumerable<OtherCard> Agreeing => Others.Where(other => other.Opinion == CardOpinion.Agrees);

    /// <summary>The cards that speak against it.</summary>
    public IEnumerable<OtherCard> Against => Others.Where(other => other.Opinion != CardOpinion.Agrees);

    /// <summary>True where another card agrees.</summary>
    public bool IsConfirmed => Agreeing.Any();

    /// <summary>Name of the reading in commands.</summary>
    public string ReadingName => ReadingEntry.NameOf(ReadingId);

    /// <summary>
    /// True where a probability is what is demanded of a setting for a goal: 95 % of cuts, 80 % of full marks. Which mark is the
    /// darkest is a comparison, of which none is stated.
    /// </summary>
    /// <param name="goal">One of <see cref="Goal"/>.</param>
    /// <param name="confidence">The probability, 0 to 1; null where none is stated.</param>
    public static bool IsSure(string goal, double? confidence) => goal switch
    {
        Goal.SureCut or Goal.CleanCut => confidence >= Reading.LeastSureCut,
        Goal.FastestFullMark => confidence >= ScoringOptions.Default.FullMarkConfidence,
        _ => true,
    };
}
