namespace CardScan.Calibration;

/// <summary>A setting that the scoring gave, held against the truth.</summary>
/// <param name="PowerPercent">Its power, percent.</param>
/// <param name="SpeedMmPerMin">Its speed.</param>
/// <param name="Stated">Probability that it reaches the goal, as stated; null where none is.</param>
/// <param name="Worth">The true figure that the goal is judged by.</param>
/// <param name="WorthAtWeakest">The same where the card is weakest.</param>
/// <param name="IsIntervalRight">Whether the stated interval of that figure holds the truth; null where none is stated.</param>
internal sealed record StatedSetting(double PowerPercent, double SpeedMmPerMin, double? Stated, double Worth, double WorthAtWeakest,
    bool? IsIntervalRight)
{
    /// <summary>A setting stated at this or more is one to rely on.</summary>
    public const double Relied = 0.9;

    /// <summary>Share of the goal that is missed by less than makes a difference to anybody: 2 % of it.</summary>
    private const double NearShare = 0.98;

    /// <summary>Below this share of the strongest mark a full mark looks weak.</summary>
    private const double WeakWorth = 0.9;

    /// <summary>A setting without a probability is given without a doubt, and is relied on.</summary>
    public bool IsReliedOn => !(Stated < Relied);

    public bool ReachesGoal => Worth >= TrueCard.GoalLimit;

    public bool MissesClearly => Worth < NearShare * TrueCard.GoalLimit;

    public bool MissesNarrowly => !ReachesGoal && !MissesClearly;

    /// <summary>A cut states how often it is through: one that states less than the goal promises no more than it states.</summary>
    public bool FallsShortOfStated => Worth < NearShare * Math.Min(Stated ?? 1, TrueCard.GoalLimit);

    public bool IsWeak => Worth < WeakWorth;
}
