namespace CardScan.Vision;

/// <summary>Soot that the extraction left on one side of the cells, the same all over the card: it wipes off, and is no scorch.</summary>
/// <param name="Side">Where it lies, by its key in the message: "right", "bottomRight".</param>
/// <param name="Loss">What it takes of the bare luminance there beyond what the opposite side loses, 0 to 1, mean over the cells.</param>
internal sealed record Soot(string Side, double Loss)
{
    /// <summary>Less than this beyond the opposite side is none, share of the bare luminance; grain and uneven light made 0.047.</summary>
    private const double LeastLoss = 0.05;

    /// <summary>
    /// It lies on the same side of this share of the cells, and its mean is so many of its errors: 4.1 at most in photos
    /// without soot, 5.3 in one with it.
    /// </summary>
    private const double LeastShare = 0.75, LeastErrors = 4.7;

    /// <summary>A plume along a diagonal lies on two sides; on the weaker one to at least this share of the stronger.</summary>
    private const double LeastOfSecond = 0.4;

    /// <summary>Fewer cells say nothing of the whole card.</summary>
    private const int FewestCells = 8;

    /// <summary>Looks for soot; null where there is none.</summary>
    /// <param name="cells">The profiles of the cells.</param>
    public static Soot? Of(IReadOnlyList<HaloProfile> cells)
    {
        if (cells.Count < FewestCells) return null;
        Lean x = Lean.Of([.. cells.Select(cell => cell.Losses[1] - cell.Losses[3])]),
            y = Lean.Of([.. cells.Select(cell => cell.Losses[2] - cell.Losses[0])]);
        if (!x.IsSure && !y.IsSure) return null;
        double strongest = Math.Max(x.IsSure ? Math.Abs(x.Mean) : 0, y.IsSure ? Math.Abs(y.Mean) : 0);
        string side = (Counts(y) ? Math.Sign(y.Mean) : 0, Counts(x) ? Math.Sign(x.Mean) : 0) switch
        {
            (> 0, > 0) => "bottomRight",
            (> 0, < 0) => "bottomLeft",
            (> 0, _) => "bottom",
            (< 0, > 0) => "topRight",
            (< 0, < 0) => "topLeft",
            (< 0, _) => "top",
            (_, > 0) => "right",
            _ => "left",
        };
        return new(side, strongest);

        bool Counts(Lean lean) => Math.Abs(lean.Mean) >= LeastOfSecond * strongest && lean.Errors >= LeastErrors;
    }

    /// <summary>How one-sided the cells' surroundings are along one axis.</summary>
    /// <param name="Mean">Mean difference of the two sides.</param>
    /// <param name="Errors">The mean in units of its error.</param>
    /// <param name="Share">Share of the cells that lean the mean's way.</param>
    internal readonly record struct Lean(double Mean, double Errors, double Share)
    {
        public bool IsSure => Math.Abs(Mean) >= LeastLoss && Errors >= LeastErrors && Share >= LeastShare;

        public static Lean Of(double[] differences)
        {
            double mean = differences.Average(), error = Math.Sqrt(Robust.Variance(differences) / differences.Length);
            return new(mean, Math.Abs(mean) / Math.Max(error, 1e-6),
                differences.Count(difference => Math.Sign(difference) == Math.Sign(mean)) / (double)differences.Length);
        }
    }
}
