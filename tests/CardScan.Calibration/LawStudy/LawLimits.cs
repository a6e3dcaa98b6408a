namespace CardScan.Calibration;

/// <summary>What the study holds a scoring to.</summary>
internal static class LawLimits
{
    /// <summary>Most clear misses among the settings stated at 90 % or more, of any law: then 90 % is no lie.</summary>
    public const double MissesOfALaw = 0.10;

    /// <summary>The same over all laws.</summary>
    public const double MissesOverAll = 0.04;

    /// <summary>Most cards without a setting among those with four good cells or more.</summary>
    public const double Silent = 0.10;
}
