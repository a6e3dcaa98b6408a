using CardScan.Model;
using CardScan.Scoring.Cutting;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>What cut cards tell of a <see cref="PlausibleSides"/>.</summary>
internal static class CutKnowledge
{
    /// <summary>
    /// What cuts have in common (common practice, no source): 10 to 90 % of the sides over 34 % more dose, give
    /// or take a factor of two.
    /// </summary>
    private static readonly double UsualLnSteepness = Math.Log(15);

    private const double LnSteepnessApart = 0.8;

    /// <summary>Speed counts about as much as power; seldom less than half as much.</summary>
    private const double UsualSpeedOverPower = 1, SpeedOverPowerApart = 0.3;

    /// <summary>The two ways seldom need doses further apart than this, as a logarithm.</summary>
    private const double WaysApart = 0.15;

    /// <summary>Two cards differ by the chance of both.</summary>
    private static readonly double BetweenCards = PieceSpread.FromOnePieceToAnother;

    /// <summary>ln dose beyond the cells in which the limit is looked for.</summary>
    private const double Outside = 1;

    /// <summary>The knowledge; null where settings have no order, or nothing was judged.</summary>
    /// <param name="cards">Scored readings, the newest first: their outliers are flagged.</param>
    /// <param name="about">The setting in question.</param>
    /// <param name="end">Cells past a known far end follow another law.</param>
    public static CardKnowledge? Of(IReadOnlyList<Reading> cards, CellSettings about, FarEnd end)
    {
        if (CutModel.Fit(CutCard.Of(cards[0])) is not { IsMonotone: true } model) return null;
        SideGroup[] sides = [.. SidesOf(cards, about, end)];
        if (sides.Length == 0) return null;

        double middle = sides.Average(side => side.LnSpeed);
        double[] lnDoses = [.. sides.Select(side => side.LnPower - side.LnSpeed + middle)];
        double[] unknown = [.. Enumerable.Repeat(double.PositiveInfinity, cards.Count - 1)];
        (double[] Least, double[] Most) box = (
            [lnDoses.Min() - Outside, Math.Log(3), 0.1, -0.5, .. unknown.Select(value => -value)],
            [lnDoses.Max() + Outside, Math.Log(200), 2, 0.5, .. unknown]);
        NonlinearFit fit = NonlinearFit.Minimise(
            Residuals, 2 * sides.Length + 3 + unknown.Length,
            [lnDoses.Average(), UsualLnSteepness, UsualSpeedOverPower, 0, .. new double[unknown.Length]], box.Least, box.Most,
            precision: 1e-10);
        if (fit.Stop == FitStop.NotFinite) return null;

        return CardKnowledge.Of(
            fit.Parameters[..PlausibleSides.Parameters].ToArray(), box, Before(),
            p => new PlausibleSides(p, model.Chance.Inflation, middle), InformationOf);

        // Signed roots of the deviance: their squares sum to −2 ln of the posterior.
        void Residuals(ReadOnlySpan<double> p, Span<double> into)
        {
            int at = 0;
            foreach (SideGroup side in sides)
            {
                double own = side.Card == 0 || p.Length == PlausibleSides.Parameters ? 0 : p[PlausibleSides.Parameters + side.Card - 1];
                double through = PlausibleSides.ProbabilityAt(p, side.LnPower + own, side.LnSpeed - middle, side.IsAlongY);
                into[at++] = Math.Sqrt(-2 * side.Through / model.Chance.Inflation * Math.Log(through));
                into[at++] = -Math.Sqrt(-2 * side.Held / model.Chance.Inflation * Math.Log(1 - through));
            }

            into[at++] = (p[PlausibleSides.LnSteepness] - UsualLnSteepness) / LnSteepnessApart;
            into[at++] = (p[PlausibleSides.SpeedOverPower] - UsualSpeedOverPower) / SpeedOverPowerApart;
            into[at++] = p[PlausibleSides.Ways] / WaysApart;
            for (int card = 1; card < cards.Count; card++) into[at++] = p[PlausibleSides.Parameters + card - 1] / BetweenCards;
        }

        double[][] InformationOf(PlausibleLaw law)
        {
            double[][] each = [.. cards.Select(_ => Information.None(law))];
            foreach (SideGroup side in sides)
                ((PlausibleSides)law).AddSides(each[side.Card], side.LnPower, side.LnSpeed, side.IsAlongY, side.Through + side.Held);
            return each;
        }
    }

    private static IEnumerable<SideGroup> SidesOf(IReadOnlyList<Reading> cards, CellSettings about, FarEnd end) =>
        from card in cards.Index()
        from cell in CutCard.Of(card.Item).Cells
        where cell.Settings.Passes == about.Passes && cell.Settings.FocusOffsetMm == about.FocusOffsetMm && end.IsBefore(cell.Settings)
        from way in cell.DoseSides.GroupBy(side => side.Direction)
        select new SideGroup(
            card.Index, cell.Point.LnPower, cell.Point.LnSpeed, way.Key == CutDirection.AlongY,
            way.Where(side => side.IsThrough).Sum(side => side.Weight), way.Where(side => !side.IsThrough).Sum(side => side.Weight));

    private static double[] Before()
    {
        double[] before = new double[SmallMatrix.PackedLength(PlausibleSides.Parameters)];
        Set(PlausibleSides.LnSteepness, LnSteepnessApart);
        Set(PlausibleSides.SpeedOverPower, SpeedOverPowerApart);
        Set(PlausibleSides.Ways, WaysApart);
        return before;

        void Set(int parameter, double spread) => before[parameter * (parameter + 3) / 2] = 1 / (spread * spread);
    }

    /// <summary>The sides of one cell that run one way.</summary>
    private sealed record SideGroup(int Card, double LnPower, double LnSpeed, bool IsAlongY, double Through, double Held);
}
