using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving;

/// <summary>Fits the candidate laws to a card, robust against a few spoiled cells, and chooses among them.</summary>
/// <remarks>
/// Four steps (docs/method/engrave-scoring.md, "Analysis"): a robust fit of each candidate that a spoiled cell cannot bend;
/// an ordinary weighted fit without the cells that stand out, with the extra variance that the residuals demand; the choice;
/// a test of each of those cells against the chosen law, so that only proven outliers stay out.
/// </remarks>
internal static class LawFitter
{
    /// <summary>Deviation below which a cell is not taken to be known, in mark strength.</summary>
    public const double SmallestDeviation = 1e-5;

    private const double Precision = 1e-8;

    /// <summary>While the chance is still sought, a fit need not be exact.</summary>
    private const double LoosePrecision = 1e-6;

    /// <summary>A candidate whose robust residuals are this many times those of the best cannot be chosen.</summary>
    private const double HopelessScale = 1.5;

    private const int FewestToJudgeScale = 20;
    private const int FewestInBlock = 2;
    private const double ShareOfOutliers = 0.05;  // cells that dirt, glare or a knot spoils
    private const double OutlierLevel = 0.01;     // for the card as a whole
    private const int VarianceRounds = 5;

    /// <summary>Cells beyond the parameters without which a fit says nothing of its errors.</summary>
    private const int FewestFreedom = 2;

    /// <summary>Difference of log-likelihoods that counts as clear: seven to one.</summary>
    private const double ClearlyLikelier = 2;

    /// <summary>Part of the strongest mark whose chance even the faintest cell has.</summary>
    private const double FaintChance = 0.15;

    /// <summary>The curves that are tried; of those that fit alike the first stands.</summary>
    private static readonly IDoseCurve[] Curves = [new SaturatingExponential(), new FourParameterLogistic(), new RiseThenFall()];

    /// <summary>The laws that the cells support, the likeliest first; null where they determine none.</summary>
    public static LawChoice? Fit(EngravedCard card)
    {
        Candidate[] candidates = [.. Curves.Select(curve => Candidate.Of(card, curve)).OfType<Candidate>()];
        if (candidates.Length == 0) return null;

        // With few cells the scale of the residuals says little.
        double least = candidates.Min(candidate => candidate.Scale);
        if (card.Marked.Count >= FewestToJudgeScale)
            candidates = [.. candidates.Where(candidate => candidate.Scale <= HopelessScale * least)];

        // All are judged on the same cells: the one with the smallest residuals points at those that stand out.
        List<MarkedCell> suspects = candidates.MinBy(candidate => candidate.Scale)!.Accidents;
        LawChoice? choice = Choose(card, candidates, suspects);
        if (choice is null || suspects.Count == 0) return choice;

        List<MarkedCell> outliers = Proven(choice.Best, suspects, card.Marked.Count);
        if (outliers.Count < suspects.Count) choice = Choose(card, candidates, outliers);
        if (outliers.Count < FewestInBlock || choice is null) return choice;

        // Several at once may be a law's doing: a fall at the highest doses looks like spoiled cells to a robust fit.
        LawChoice? whole = Choose(card,
            [.. candidates.Select(candidate => candidate with { Start = RobustLaw.LeastSquares(card, candidate.Law, candidate.Box) })], []);
        return whole is not null && whole.Best.Information < choice.Best.Information + outliers.Count * CostOfOutlier(choice.Best)
            ? whole
            : choice;
    }

    /// <summary>
    /// What a cell adds to <see cref="LawFit.Information"/> that may have any mark up to the strongest, as few cells may;
    /// without the constant of a normal density, which that leaves out.
    /// </summary>
    private static double CostOfOutlier(LawFit fit) => -2 * Math.Log(ShareOfOutliers / fit.Strongest * Math.Sqrt(2 * Math.PI));

    private static LawChoice? Choose(EngravedCard card, Candidate[] candidates, List<MarkedCell> outliers)
    {
        EngravedCard kept = card.Without(outliers);
        return LawChoice.Of(
            [.. candidates.Select(candidate => Exact(Likelier(kept, new(kept, candidate.Law.Curve), candidate.Start, candidate.Box)))
                .OfType<LawFit>()],
            outliers);
    }

    /// <summary>A curve that the card has cells enough for, with its robust fit.</summary>
    private sealed record Candidate(DoseLaw Law, LawBox Box, double[] Start, double Scale, List<MarkedCell> Accidents)
    {
        public static Candidate? Of(EngravedCard card, IDoseCurve curve)
        {
            DoseLaw law = new(card, curve);
            LawBox box = LawBox.For(card, law);
            if (card.Marked.Count < box.FreeCount - curve.KnownCount() + FewestFreedom) return null;
            (double[] start, double scale, List<MarkedCell> accidents) = RobustLaw.Fit(card, law, box);
            return new(law, box, start, scale, accidents);
        }
    }

    /// <summary>
    /// Chance counted in shares of the mark, unless contrast makes the card clearly likelier: few cells can tell the two
    /// apart, and taking the chance of strong marks for small would make intervals too narrow where it matters.
    /// </summary>
    private static LawFit? Likelier(EngravedCard card, DoseLaw law, double[] start, LawBox box)
    {
        LawFit? mark = Weighted(card, law, start, box, ChanceKind.Mark);
        // Where the stated errors explain everything there is no chance to be counted.
        if (mark is { ExtraDeviation: 0 }) return mark;
        LawFit? ground = Weighted(card, law, mark is null ? start : [.. mark.Parameters], box, ChanceKind.Ground);
        if (mark is null || ground is null) return mark ?? ground;
        return ground.LogLikelihood > mark.LogLikelihood + ClearlyLikelier ? ground : mark;
    }

    /// <summary>The fit ended to full precision, with the deviations that it has found.</summary>
    private static LawFit? Exact(LawFit? loose)
    {
        if (loose is null) return null;
        NonlinearFit fit = loose.Refitted(Precision);
        return fit.Cofactors is null
            ? null
            : new(loose.Card, loose.Law, loose.Box, fit, FreedomOf(loose.Law, fit, loose.Card), loose.Deviations, loose.ExtraDeviation)
            {
                Chance = loose.Chance
            };
    }

    /// <summary>Weighted least squares with the extra variance that the residuals demand.</summary>
    private static LawFit? Weighted(EngravedCard card, DoseLaw law, double[] start, LawBox box, ChanceKind kind)
    {
        double[] errors = new double[card.Marked.Count];
        double[] scales = new double[errors.Length];
        double[] ones = [.. errors.Select(_ => 1.0)];
        double[] residuals = new double[errors.Length];
        int rows = law.RowsFor(card);
        double[] p = start;
        law.Residuals(card, ones)(p, residuals);
        Expect(p);
        double extra = Math.Sqrt(residuals.Zip(scales, (r, scale) => r * r / (scale * scale)).Sum() / residuals.Length);
        double[] deviations = DeviationsOf(errors, scales, extra);
        NonlinearFit fit = NonlinearFit.Minimise(law.Residuals(card, deviations), rows, p, box.Lower, box.Upper, LoosePrecision);
        for (int round = 0; round < VarianceRounds; round++)
        {
            if (fit.Cofactors is null) return null;
            p = fit.Parameters.ToArray();
            law.Residuals(card, ones)(p, residuals);
            Expect(p);
            double next = Overdispersion.Estimate(residuals, errors, scales, FreedomOf(law, fit, card));
            bool isSettled = Math.Abs(next - extra) <= 1e-3 * extra;
            extra = next;
            if (isSettled) break;
            deviations = DeviationsOf(errors, scales, extra);
            fit = NonlinearFit.Minimise(law.Residuals(card, deviations), rows, p, box.Lower, box.Upper, LoosePrecision);
        }

        return fit.Cofactors is null ? null : new(card, law, box, fit, FreedomOf(law, fit, card), deviations, extra) { Chance = kind };

        void Expect(double[] at)
        {
            law.Strengths(at, scales);
            double strongest = law.Strongest(at);
            for (int i = 0; i < errors.Length; i++)
            {
                double strength = scales[i];
                errors[i] = card.Marked[i].ErrorAt(strength);
                scales[i] = ScaleOf(kind, card.Marked[i], strength, strongest);
            }
        }
    }

    /// <summary>Cells less the parameters that they determine.</summary>
    private static double FreedomOf(DoseLaw law, NonlinearFit fit, EngravedCard card) =>
        Math.Max(card.Marked.Count - law.Determined(law.RowsFor(card) - fit.DegreesOfFreedom, fit.Cofactors!), FewestFreedom);

    private static double ScaleOf(ChanceKind kind, MarkedCell cell, double fitted, double strongest) =>
        kind == ChanceKind.Ground ? cell.ChanceScaleAt(fitted) : Math.Sqrt(fitted * fitted + Math.Pow(FaintChance * strongest, 2)) + 1e-9;

    private static double[] DeviationsOf(double[] errors, double[] scales, double extra) =>
        [.. errors.Select((error, i) => Math.Max(Math.Sqrt(error * error + Math.Pow(extra * scales[i], 2)), SmallestDeviation))];

    /// <summary>Those of the suspects that the fit without them refutes at 1 % for the card (Bonferroni).</summary>
    private static List<MarkedCell> Proven(LawFit fit, List<MarkedCell> suspects, int cells)
    {
        double limit = StudentT.InvCDF(0, 1, fit.DegreesOfFreedom, 1 - OutlierLevel / 2 / cells);
        List<BurnedCell> burned = [.. fit.Card.Burned];
        return [.. suspects.Where(suspect =>
        {
            int index = burned.FindIndex(cell => cell == suspect.Cell);
            double expected = fit.StrengthAt(fit.Parameters, index);
            double fitError = fit.StandardError(p => fit.StrengthAt(p, index));
            double chance = fit.ExtraDeviation * ScaleOf(fit.Chance, suspect, expected, fit.Strongest);
            double error = Math.Sqrt(Math.Pow(suspect.ErrorAt(expected), 2) + chance * chance + fitError * fitError) + SmallestDeviation;
            return Math.Abs(suspect.Strength - expected) > limit * error;
        })];
    }
}
