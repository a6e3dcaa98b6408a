namespace CardScan.Vision;

/// <summary>Statistics that a few wrong values do not move.</summary>
internal static class Robust
{
    /// <summary>From the median absolute deviation to the standard deviation of a normal distribution.</summary>
    private const double NormalScale = 1.4826;

    /// <summary>Tukey's usual tuning: 95 % efficient for normal errors.</summary>
    public const double UsualReach = 4.685;

    /// <summary>Median of the finite values (the upper of two middle ones); NaN where there is none.</summary>
    public static double Median(IEnumerable<double> values)
    {
        double[] finite = [.. values.Where(double.IsFinite)];
        return finite.Length == 0 ? double.NaN : Selected(finite, finite.Length / 2);
    }

    /// <summary>
    /// The value that sorting would bring to a place; brings others nearer to theirs. Hoare, Comm. ACM 4 (1961) 321,
    /// "Find".
    /// </summary>
    private static double Selected(double[] values, int place)
    {
        int first = 0, last = values.Length - 1;
        while (first < last)
        {
            double pivot = values[first + (last - first) / 2];
            int left = first, right = last;
            while (left <= right)
            {
                while (values[left] < pivot) left++;
                while (values[right] > pivot) right--;
                if (left > right) break;
                (values[left], values[right]) = (values[right], values[left]);
                (left, right) = (left + 1, right - 1);
            }

            if (place <= right) last = right;
            else if (place >= left) first = left;
            else break;
        }

        return values[place];
    }

    /// <summary>Standard deviation about a centre, judged by the median absolute deviation.</summary>
    public static double Deviation(IEnumerable<double> values, double centre = 0) =>
        NormalScale * Median(values.Select(value => Math.Abs(value - centre)));

    /// <summary>Weight of Tukey's biweight: 1 at the centre, 0 from the reach on, 0 for NaN.</summary>
    public static double Biweight(double residual, double reach) =>
        Math.Abs(residual) < reach ? Math.Pow(1 - residual * residual / (reach * reach), 2) : 0;

    /// <summary>Weighted mean.</summary>
    public static double Mean(double[] values, double[] weights)
    {
        double sum = 0, total = 0;
        for (int i = 0; i < values.Length; i++)
        {
            sum += weights[i] * values[i];
            total += weights[i];
        }

        return sum / total;
    }

    /// <summary>Sample variance; two values or more.</summary>
    public static double Variance(IReadOnlyCollection<double> values)
    {
        double mean = values.Average();
        return values.Sum(value => (value - mean) * (value - mean)) / (values.Count - 1);
    }
}
