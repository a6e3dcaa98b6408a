namespace CardScan.Scoring.Next;

/// <summary>What a burned card tells, and what any further cell would add, as Fisher information about its model.</summary>
internal abstract class CardKnowledge
{
    /// <summary>Parameters of both models.</summary>
    public const int Parameters = 4;

    /// <summary>Information of the burned card, parameters × parameters.</summary>
    public double[,] Known { get; } = new double[Parameters, Parameters];

    /// <summary>Adds what one cell would tell.</summary>
    public abstract void Add(double[,] information, double lnPower, double lnSpeed);

    /// <summary>ln of the power, percent, at the limit at some speed.</summary>
    public abstract double LnLimit(double lnSpeed);

    /// <summary>Derivatives of <see cref="LnLimit"/> by the parameters.</summary>
    public abstract double[] LimitGradient(double lnSpeed);

    /// <summary>True where the outcome of a cell is open: it is neither sure to reach the goal nor sure to miss it.</summary>
    public abstract bool IsOpen(double lnPower, double lnSpeed);

    /// <summary>How many cells of a grid have an open outcome.</summary>
    public int OpenCells(IEnumerable<double> powers, IReadOnlyCollection<double> speeds) =>
        powers.Sum(power => speeds.Count(speed => IsOpen(Math.Log(power), Math.Log(speed))));
}
