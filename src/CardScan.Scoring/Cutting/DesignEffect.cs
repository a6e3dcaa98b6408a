namespace CardScan.Scoring.Cutting;

/// <summary>How far the sides of one cell are open or held together beyond what their setting explains: grain, glue, warp.</summary>
/// <param name="Correlation">
/// Correlation between two sides of a cell, 0 to 1: by its moments, drawn towards a usual one where the card tells little.
/// </param>
/// <param name="Inflation">Times by which the variance of estimates grows: 1 + (sides − 1) · correlation (Kish's design effect).</param>
internal sealed record DesignEffect(double Correlation, double Inflation)
{
    /// <summary>
    /// What is taken for granted of a card that cannot tell, and its weight: that of so many sums of p (1 − p) over a
    /// card's pairs of sides.
    /// </summary>
    private const double UsualCorrelation = 0.3, UsualPairs = 2;

    public static DesignEffect Of(CutObservations observed, ReadOnlySpan<double> coefficients)
    {
        double common = 0, possible = 0, sides = 0, sidesSquared = 0;
        foreach (IGrouping<int, int> cell in Enumerable.Range(0, observed.Cells.Length).GroupBy(i => observed.Cells[i]))
        {
            double excess = 0, variance = 0, deviation = 0, weight = 0;
            foreach (int i in cell)
            {
                double p = observed.ProbabilityAt(coefficients, i), trials = observed.Weights[i];
                excess += observed.Open[i] - trials * p;
                variance += trials * p * (1 - p);
                deviation += trials * Math.Sqrt(p * (1 - p));
                weight += trials;
            }

            common += excess * excess - variance;
            possible += deviation * deviation - variance;
            sides += variance;
            sidesSquared += variance * weight;
        }

        if (!(possible > 0) || !(sides > 0)) return new(0, 1);
        double correlation = Math.Clamp((common + UsualCorrelation * UsualPairs) / (possible + UsualPairs), 0, 1);
        return new(correlation, 1 + Math.Max(0, sidesSquared / sides - 1) * correlation);
    }
}
