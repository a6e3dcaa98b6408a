using CardScan.Model;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>What engraved cards tell of a <see cref="PlausibleMark"/>.</summary>
/// <remarks>
/// Fitted to the cells that share the passes, interval and focus of the setting in question; the fit serves to plan, and
/// what is stated of the cards is the scoring's. Each card after the first has a dose factor of its own.
/// </remarks>
internal static class MarkKnowledge
{
    /// <summary>
    /// Usual sharpness of the rise (common practice, no source): ln g about 0.3 for a saturating curve, 0.8 more for a logistic one.
    /// </summary>
    private const double UsualLnShape = 0.3, LnShapeByBend = 0.8, LnShapeApart = 0.5;

    /// <summary>Half way between the saturating and the logistic curve, and either as likely.</summary>
    private const double UsualBend = 0.5, BendApart = 0.5;

    /// <summary>Speed counts about as much as power; seldom less than half as much.</summary>
    private const double UsualSpeedExponent = 1, SpeedExponentApart = 0.3;

    /// <summary>Shares of a mark by which materials deviate smoothly from such a curve.</summary>
    private const double DeviationApart = 0.01;

    /// <summary>Chance of a cell that is taken for granted of cards that cannot tell, and how many cells that counts.</summary>
    private const double UsualShare = 0.02, UsualCells = 4;

    /// <summary>Error of a darkness where none is stated: that of a good photo.</summary>
    private const double UsualDarknessError = 0.01;

    private const int FewestCells = 3, Rounds = 3;

    /// <summary>Two cards differ by the chance of both.</summary>
    private static readonly double BetweenCards = Math.Sqrt(2) * CardSpread.OfDose;

    /// <summary>ln dose beyond the cells in which the middle of the rise is looked for.</summary>
    private const double Outside = 3;

    /// <summary>The knowledge; null where fewer than three cells are left, or they determine no curve.</summary>
    /// <param name="cards">Scored readings, the newest first: their outliers are flagged.</param>
    /// <param name="about">The setting in question.</param>
    /// <param name="end">Cells past a known far end follow another law; what the scoring makes of them is the strongest mark.</param>
    /// <param name="fullMarkShare">Share of the strongest mark that is a full mark.</param>
    public static CardKnowledge? Of(IReadOnlyList<Reading> cards, CellSettings about, FarEnd end, double fullMarkShare)
    {
        MarkCells cells = MarkCells.Of(cards, about, end);
        if (cells.Count < FewestCells) return null;

        (double[] Least, double[] Most) box = BoxOf(cells);
        MarkChance chance = new(cells.DarknessError ?? UsualDarknessError, UsualShare, cells.AreLighter);
        double[]? p = null;
        for (int round = 0; round < Rounds; round++)
        {
            if (Fitted(cells, chance, box, p) is not { } found) return null;
            p = found;
            chance = chance with { Share = ShareOf(cells, p, chance) };
        }

        return CardKnowledge.Of(
            [.. p![..PlausibleMark.CurveParameters], .. new double[PlausibleMark.Parameters - PlausibleMark.CurveParameters]],
            BoxOfLaw(box), Before(),
            of => new PlausibleMark(of, chance, cells.MiddleLnSpeed, fullMarkShare), law => cells.InformationOf(law));
    }

    private static (double[] Least, double[] Most) BoxOf(MarkCells cells)
    {
        double most = cells.Strengths.Max();
        double[] unknown = [.. Enumerable.Repeat(double.PositiveInfinity, cells.CardCount - 1)];
        return (
            [most / 2, cells.LnDoses.Min() - Outside, -1, 0.1, 0.05, .. unknown.Select(value => -value)],
            [2 * most + 0.05, cells.LnDoses.Max() + Outside, 2.2, 2, 1.5, .. unknown]);
    }

    /// <summary>Deviations of more than three times the usual are not drawn.</summary>
    private static (double[] Least, double[] Most) BoxOfLaw((double[] Least, double[] Most) box)
    {
        double[] most = [.. Enumerable.Repeat(3 * DeviationApart, PlausibleMark.Parameters - PlausibleMark.CurveParameters)];
        return ([.. box.Least[..PlausibleMark.CurveParameters], .. most.Select(value => -value)],
            [.. box.Most[..PlausibleMark.CurveParameters], .. most]);
    }

    /// <summary>The likeliest parameters, and the ln dose factors of the further cards after them.</summary>
    private static double[]? Fitted(MarkCells cells, MarkChance chance, (double[] Least, double[] Most) box, double[]? start)
    {
        double most = cells.Strengths.Max();
        double[] own = new double[cells.CardCount - 1];
        double[][] starts = start is not null ? [start]
            : [.. new[] { cells.LnDoses.Min(), cells.LnDoses.Average(), cells.LnDoses.Max() }.Select(place =>
                (double[])[most, place, UsualLnShape + LnShapeByBend * UsualBend, UsualSpeedExponent, UsualBend, .. own])];
        // Weights go with the measured marks in the first round, with the fitted ones after it.
        double[] deviations = [.. Enumerable.Range(0, cells.Count)
            .Select(i => Math.Sqrt(chance.VarianceAt(start is null ? cells.Strengths[i] : cells.StrengthAt(start, i))))];
        int known = cells.Count;
        NonlinearFit? best = starts
            .Select(from => NonlinearFit.Minimise(Residuals, cells.Count + 4 + own.Length, from, box.Least, box.Most, precision: 1e-10))
            .Where(fit => fit.Stop != FitStop.NotFinite).MinBy(fit => fit.SumOfSquares);
        return best?.Parameters.ToArray();

        void Residuals(ReadOnlySpan<double> p, Span<double> into)
        {
            for (int i = 0; i < cells.Count; i++) into[i] = (cells.Strengths[i] - cells.StrengthAt(p, i)) / deviations[i];
            into[known] = (p[PlausibleMark.LnShape] - UsualLnShape - LnShapeByBend * p[PlausibleMark.Bend]) / LnShapeApart;
            into[known + 1] = (p[PlausibleMark.SpeedExponent] - UsualSpeedExponent) / SpeedExponentApart;
            into[known + 2] = (p[PlausibleMark.Bend] - UsualBend) / BendApart;
            into[known + 3] = cells.Peak is { } peak ? (p[PlausibleMark.Strongest] - peak.Value) / peak.StandardError : 0;
            for (int card = 0; card < own.Length; card++) into[known + 4 + card] = p[PlausibleMark.CurveParameters + card] / BetweenCards;
        }
    }

    /// <summary>
    /// Chance that brings the weighted squares to their expectation (Paule, Mandel 1982), drawn towards a usual one on small cards.
    /// </summary>
    private static double ShareOf(MarkCells cells, double[] p, MarkChance chance)
    {
        double[] strengths = [.. Enumerable.Range(0, cells.Count).Select(i => cells.StrengthAt(p, i))];
        double freedom = Math.Max(0, cells.Count - PlausibleMark.CurveParameters);
        double low = 0, high = 1;
        for (int halving = 0; halving < 30; halving++)
        {
            double middle = (low + high) / 2;
            MarkChance tried = chance with { Share = middle };
            double squares =
                strengths.Select((strength, i) => Math.Pow(cells.Strengths[i] - strength, 2) / tried.VarianceAt(strength)).Sum();
            if (squares > freedom) low = middle;
            else high = middle;
        }

        return Math.Sqrt((freedom * low * low + UsualCells * UsualShare * UsualShare) / (freedom + UsualCells));
    }

    private static double[] Before()
    {
        double[] before = new double[SmallMatrix.PackedLength(PlausibleMark.Parameters)];
        double shape = 1 / (LnShapeApart * LnShapeApart);
        Set(PlausibleMark.LnShape, PlausibleMark.LnShape, shape);
        Set(PlausibleMark.Bend, PlausibleMark.LnShape, -LnShapeByBend * shape);
        Set(PlausibleMark.Bend, PlausibleMark.Bend, LnShapeByBend * LnShapeByBend * shape + 1 / (BendApart * BendApart));
        Set(PlausibleMark.SpeedExponent, PlausibleMark.SpeedExponent, 1 / (SpeedExponentApart * SpeedExponentApart));
        for (int knot = PlausibleMark.CurveParameters; knot < PlausibleMark.Parameters; knot++)
            Set(knot, knot, 1 / (DeviationApart * DeviationApart));
        return before;

        void Set(int row, int column, double value) => before[row * (row + 1) / 2 + column] = value;
    }
}
