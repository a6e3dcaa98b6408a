using CardScan.Model;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next;

/// <summary>How well the limit is expected to be known after a card.</summary>
/// <remarks>
/// By how much an interval shrinks follows from the information, averaged over the laws that are plausible. How wide it is
/// now the scoring knows better, where it drew a boundary. What cards differ by is on top: further cells of one card do not
/// shrink it.
/// </remarks>
internal sealed class Expectation
{
    /// <summary>
    /// The scoring's interval over the information's is believed within these: beyond, one of the two knows nothing of the limit.
    /// </summary>
    private const double LeastScale = 0.5, MostScale = 2;

    private readonly CardKnowledge _known;
    private readonly double _lnSpeed;
    private readonly double _scale;

    private Expectation(CardKnowledge known, double lnSpeed, double? halfWidthNow)
    {
        (_known, _lnSpeed, _scale) = (known, lnSpeed, 1);
        if (halfWidthNow is { } stated) _scale = Math.Clamp(stated / WidthNow, LeastScale, MostScale);
    }

    private double WidthNow => _known.Cards.Count == 1
        ? Width(_ => (_known.Cards, null), hasOwnChance: false)
        : Width(_ => (_known.Cards, null), hasOwnChance: true);

    /// <summary>What is expected.</summary>
    /// <param name="known">What is known.</param>
    /// <param name="newest">
    /// The newest reading, scored with the others; its boundary has points at burned speeds, of which the nearest serves.
    /// </param>
    /// <param name="powers">Powers of the next card, percent.</param>
    /// <param name="speeds">Its speeds, mm/min.</param>
    /// <param name="speed">The speed in question, mm/min.</param>
    public static ExpectedLearning Of(CardKnowledge known, Reading newest, double[] powers, double[] speeds, double speed)
    {
        double lnSpeed = Math.Log(speed), power = Math.Exp(known.Best.LnLimit(lnSpeed));
        double? stated = null;
        if (newest.Boundary?.MinBy(point => Math.Abs(Math.Log(point.SpeedMmPerMin / speed))) is { } boundary)
        {
            power *= boundary.PowerPercent / Math.Exp(known.Best.LnLimit(Math.Log(boundary.SpeedMmPerMin)));
            stated = 50 * (boundary.High - boundary.Low) / boundary.PowerPercent;
        }

        Expectation expectation = new(known, lnSpeed, stated);
        return new(
            speed, power,
            stated ?? expectation.WidthNow,
            expectation.Width(law => ([], Information.OfGrid(law, powers, speeds)), hasOwnChance: false),
            expectation.Width(law => (known.Cards, Information.OfGrid(law, powers, speeds)), hasOwnChance: true),
            expectation.Width(_ => (known.Cards, known.Cards[0]), hasOwnChance: true));
    }

    /// <summary>The mean variance: a law by which the card would tell little counts for what it leaves open.</summary>
    private double Width(Func<PlausibleLaw, (IReadOnlyList<double[]> Burned, double[]? Next)> told, bool hasOwnChance)
    {
        double within = Variance(told, false), all = hasOwnChance ? Variance(told, true) : within;
        return Information.HalfWidthPercent(_scale * _scale * within + Math.Max(0, all - within));
    }

    private double Variance(Func<PlausibleLaw, (IReadOnlyList<double[]> Burned, double[]? Next)> told, bool hasOwnChance) =>
        _known.Plausible.Average(law =>
        {
            (IReadOnlyList<double[]> burned, double[]? next) = told(law);
            double[] sum = (double[])_known.Before.Clone();
            foreach (double[] card in burned) Information.AddTo(sum, hasOwnChance ? Information.WithOwnChance(card, _known.Best) : card);
            if (next is not null) Information.AddTo(sum, hasOwnChance ? Information.WithOwnChance(next, law) : next);
            return Information.LimitVariance(law, sum, _lnSpeed);
        });
}
