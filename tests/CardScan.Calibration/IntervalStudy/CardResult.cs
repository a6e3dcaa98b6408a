namespace CardScan.Calibration;

/// <summary>What one scored card came to.</summary>
internal sealed record CardResult
{
    /// <summary>Stated intervals by quantity, and whether each holds the truth.</summary>
    public required IReadOnlyList<(string Quantity, bool IsHeld)> Intervals { get; init; }

    /// <summary>The recommendation; null where the scoring declined, or has no setting for the goal.</summary>
    public Pick? Recommended { get; init; }

    /// <summary>What someone takes by eye; null where the card shows nothing to take.</summary>
    public Pick? ByEye { get; init; }

    /// <summary>Probability that the recommendation states.</summary>
    public double? Confidence { get; init; }

    /// <summary>
    /// Regret of the recommendation and of picking by eye, both on this card; null where either has no setting, or
    /// no burned one would do.
    /// </summary>
    public (double Recommended, double ByEye)? Regret { get; init; }

    /// <summary>
    /// What someone burns who follows the setting between tested cells where one is named, and the recommendation
    /// elsewhere; its regret, as above.
    /// </summary>
    public (Pick Pick, double Regret)? Followed { get; init; }

    /// <summary>Regret of the recommendation against the best setting inside the range, burned or not.</summary>
    public double? RegretInRange { get; init; }

    /// <summary>
    /// The setting between tested cells that goes with the recommendation, its stated probability, and its regret
    /// inside the range; null where none is given.
    /// </summary>
    public (Pick Pick, double Confidence, double Regret)? Unburned { get; init; }
}

/// <summary>A setting that was picked, held against the truth.</summary>
/// <param name="SpeedMmPerMin">Its speed.</param>
/// <param name="Worth">The true figure that the goal is judged by.</param>
internal sealed record Pick(double SpeedMmPerMin, double Worth)
{
    public bool ReachesGoal => Worth >= TrueCard.GoalLimit;

    /// <summary>
    /// Regret in burns of the oracle: time lost against it, and one whole burn more where the goal is not reached and the
    /// piece must be burned again. A setting that is too fast gets nothing for its speed.
    /// </summary>
    public double RegretAgainst(double oracleSpeedMmPerMin)
    {
        double slower = oracleSpeedMmPerMin / SpeedMmPerMin - 1;
        return ReachesGoal ? slower : 1 + Math.Max(0, slower);
    }
}
