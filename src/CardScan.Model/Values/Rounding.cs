namespace CardScan.Model;

/// <summary>Numbers by their leading figures.</summary>
public static class Rounding
{
    /// <summary>Two figures: a speed that somebody would dial, an energy that is known within a factor.</summary>
    /// <param name="value">Greater than 0.</param>
    public static double TwoFigures(double value) => Figures(value, 2);

    /// <summary>Three figures: the steps of a range.</summary>
    /// <param name="value">Greater than 0.</param>
    public static double ThreeFigures(double value) => Figures(value, 3);

    private static double Figures(double value, int figures)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(value)) - (figures - 1));
        return Math.Round(value / unit) * unit;
    }
}
