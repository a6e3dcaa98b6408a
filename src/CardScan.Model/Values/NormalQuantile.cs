namespace CardScan.Model;

/// <summary>Quantiles of the standard normal distribution that intervals are made with.</summary>
public static class NormalQuantile
{
    /// <summary>Half the width of a 95 % interval, in standard errors; a one-sided test at 2.5 %.</summary>
    public const double TwoSided95 = 1.959963984540054;

    /// <summary>A one-sided test at 5 %; half the width of a 90 % interval.</summary>
    public const double OneSided95 = 1.6448536269514722;
}
