namespace CardScan.Scoring.Next.Knowledge;

/// <summary>A law that may hold on the material, and what one more cell would tell of its parameters.</summary>
internal abstract class PlausibleLaw
{
    /// <summary>Number of parameters.</summary>
    public abstract int Size { get; }

    /// <summary>Parameters in which each card has a chance of its own besides, and its standard deviation.</summary>
    public abstract IReadOnlyList<(int Parameter, double Deviation)> OwnOfACard { get; }

    /// <summary>Adds the Fisher information of one cell.</summary>
    /// <param name="information">Lower triangle, row by row.</param>
    /// <param name="lnPower">ln of the power, percent.</param>
    /// <param name="lnSpeed">ln of the speed, mm/min.</param>
    public abstract void Add(Span<double> information, double lnPower, double lnSpeed);

    /// <summary>ln of the power, percent, at the limit at some speed.</summary>
    public abstract double LnLimit(double lnSpeed);

    /// <summary>Derivatives of <see cref="LnLimit"/> by the parameters.</summary>
    public abstract void LimitGradient(double lnSpeed, Span<double> gradient);

    /// <summary>Probability that a cell reaches the goal, were this the law.</summary>
    public abstract double ChanceOfGoal(double lnPower, double lnSpeed);

    /// <summary>Adds weight · row · rowᵀ.</summary>
    protected static void AddOuter(Span<double> information, ReadOnlySpan<double> row, double weight)
    {
        int at = 0;
        for (int i = 0; i < row.Length; i++)
        {
            double scaled = weight * row[i];
            for (int j = 0; j <= i; j++) information[at++] += scaled * row[j];
        }
    }
}
