namespace CardScan.Calibration;

/// <summary>The least power at which something holds, percent of full.</summary>
internal static class LeastPower
{
    /// <summary>Boundaries past ten times full power are of no use to anybody.</summary>
    private const double From = 1, To = 1000;

    /// <summary>Finer than any window of power that a law here opens.</summary>
    private const double Step = 1.02;

    private const int Halvings = 16;

    public static double? Where(Func<double, bool> holds)
    {
        for (double power = From; power < To; power *= Step)
        {
            if (holds(power)) return power == From ? power : Between(power / Step, power, holds);
        }

        return null;
    }

    private static double Between(double below, double above, Func<double, bool> holds)
    {
        for (int i = 0; i < Halvings; i++)
        {
            double middle = Math.Sqrt(below * above);
            if (holds(middle)) above = middle;
            else below = middle;
        }

        return above;
    }
}
