using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Next.Design;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next;

/// <summary>Where the answer lies outside the card.</summary>
internal enum Direction
{
    /// <summary>Everything is through, or alike: faster, or less power.</summary>
    LessDose,

    /// <summary>Nothing is through or marked, or the mark still grows: more power, or slower.</summary>
    MoreDose,
}

/// <summary>A next card that goes on where a card ended without an answer.</summary>
internal static class ShiftedCard
{
    /// <summary>Times the highest speed (or a part of the lowest power) that a card reaches whose predecessor was too strong.</summary>
    private const double LessFactor = 2.5;

    /// <summary>Overlap with the old card, as a ratio: the two are to be seen as one.</summary>
    private const double Overlap = 1.25;

    /// <summary>Part of the highest power from which a card of more dose begins.</summary>
    private const double LeastPowerShare = 0.6;

    /// <summary>More dose that is worth a card of its own; where power and speed give less, a pass is added.</summary>
    private const double LeastGain = 1.2;

    /// <summary>
    /// How far past the full mark by best estimate a card reaches, in standard errors of it, so that the answer lies
    /// inside with good probability.
    /// </summary>
    private const double Certainty = 1.3;

    /// <summary>Times the highest dose that the next card reaches: less is no new card, and of more nothing is known.</summary>
    private const double LeastFactor = 1.5, MostFactor = 4;

    private static readonly HashSet<string> TooStrong = [Codes.AllThrough, Codes.Saturated, Codes.WeakensAllOver];
    private static readonly HashSet<string> TooWeak = [Codes.NoneThrough, Codes.NoMark, Codes.NotLevelledOff];

    /// <summary>Null where the answer lies inside the card, or nothing is known of where it lies.</summary>
    public static Direction? DirectionOf(BurnedCards cards, NextCardOptions options) =>
        cards.Newest.Advice.Any(advice => TooStrong.Contains(advice.Code)) ? Direction.LessDose
        // Past a known end there is nothing to look for.
        : !cards.End.IsKnown && (cards.Newest.Advice.Any(advice => TooWeak.Contains(advice.Code)) || GrowsOn(cards, options))
            ? Direction.MoreDose
        : null;

    /// <summary>
    /// True where the full mark lies further out than a card about the strongest cell would reach: by chance such a
    /// card can look levelled off.
    /// </summary>
    private static bool GrowsOn(BurnedCards cards, NextCardOptions options) =>
        cards.Newest.Plan.Process == Process.Engrave && FactorToFullMark(cards, options, certainty: 0) > DoseLimits.Reserve;

    public static NextRanges Plan(BurnedCards cards, Direction direction, NextCardOptions options)
    {
        SettableSteps steps = SettableSteps.Of(options);
        return direction == Direction.LessDose ? Less(cards, steps, options) : More(cards, steps, options);
    }

    /// <summary>Speed counts first, so it takes the larger part; what the machine's fastest speed leaves undone, less power does.</summary>
    private static NextRanges Less(BurnedCards cards, SettableSteps steps, NextCardOptions options)
    {
        BurnedRange burned = cards.Burned;
        // At the highest power of a card the limit lies further out than at its lowest.
        double wantedSpeed = burned.Fastest * LessFactor * Math.Sqrt(burned.MostPower / burned.LeastPower);
        double fastest = Math.Max(Math.Min(wantedSpeed, options.FastestMmPerMin), options.SlowestMmPerMin);
        double slowest = Math.Min(burned.Fastest, fastest / Overlap);
        double power = burned.LeastPower / Math.Sqrt(LessFactor) * Math.Max(fastest, burned.Fastest)
            / wantedSpeed * Math.Sqrt(burned.MostPower / burned.LeastPower);
        double leastPower = Math.Clamp(power, options.PowerStepPercent, burned.LeastPower);
        bool isBeyondPeak = cards.Newest.Advice.Any(advice => advice.Code == Codes.WeakensAllOver);
        return Ranges(burned.Weakest.Settings, steps, options, (leastPower, burned.MostPower), (slowest, fastest),
            (power, speed) => NextCardMessages.Less(burned, speed[^1], power[0], isBeyondPeak));
    }

    /// <summary>Power first, since it costs no time; from 100 % on the card slows down, and at the slowest speed a pass is added.</summary>
    private static NextRanges More(BurnedCards cards, SettableSteps steps, NextCardOptions options)
    {
        BurnedRange burned = cards.Burned;
        double factor = FactorFor(cards, options);
        double mostPower = Math.Min(SettableSteps.MostPowerPercent, burned.MostPower * factor);
        double slower = Math.Max(1, factor * burned.MostPower / mostPower);
        double slowest = Math.Max(burned.Slowest / slower, options.SlowestMmPerMin);
        CellSettings about = burned.Strongest.Settings;
        double gain = mostPower / burned.MostPower * burned.Slowest / slowest;
        if (gain < LeastGain)
        {
            CellSettings again = about with { Passes = about.Passes + 1 };
            (double, double) speeds = (slowest, Math.Max(burned.Fastest, Overlap * slowest));
            return Ranges(again, steps, options, (burned.LeastPower, mostPower), speeds, (_, _) => NextCardMessages.MorePasses(again));
        }

        double fastest = Math.Max(Overlap * burned.Slowest, Overlap * slowest);
        return Ranges(about, steps, options, (Math.Min(LeastPowerShare * mostPower, burned.MostPower), mostPower), (slowest, fastest),
            (power, speed) => NextCardMessages.More(power[^1] / burned.MostPower * burned.Slowest / speed[0], speed[0], power[^1]));
    }

    /// <summary>Times the dose of the strongest cell that the next card should reach.</summary>
    private static double FactorFor(BurnedCards cards, NextCardOptions options)
    {
        if (cards.Newest.Plan.Process == Process.Engrave)
        {
            if (cards.Newest.Advice.Any(advice => advice.Code == Codes.NoMark)) return MostFactor;
            return Math.Clamp(FactorToFullMark(cards, options, Certainty) ?? 2, LeastFactor, MostFactor);
        }

        double open = cards.Burned.Strongest.Sides is { } sides
            ? new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }
                .Average(side => side.OpenFraction ?? (side.State == SideState.Open ? 1 : 0))
            : 0;
        return open > 0.3 ? 1.6 : open > 0 ? 2 : 3;
    }

    /// <summary>
    /// Times the dose of the strongest cell at which the full mark lies, so many standard errors beyond the best
    /// estimate; null where the marks follow no rising curve.
    /// </summary>
    private static double? FactorToFullMark(BurnedCards cards, NextCardOptions options, double certainty)
    {
        CellSettings strongest = cards.Burned.Strongest.Settings;
        double lnSpeed = Math.Log(strongest.SpeedMmPerMin);
        return cards.KnowledgeAbout(strongest, options) is { } known
            ? Math.Exp(known.Best.LnLimit(lnSpeed)
                + certainty * Math.Sqrt(Information.LimitVariance(known.Best, known.Now, lnSpeed)) - Math.Log(strongest.PowerPercent))
            : null;
    }

    private static NextRanges Ranges(
        CellSettings about, SettableSteps steps, NextCardOptions options, (double Low, double High) powers,
        (double Low, double High) speeds, Func<double[], double[], Advice> note)
    {
        double[] power = steps.SpreadPowers(powers.Low, powers.High, options.Columns),
            speed = steps.SpreadSpeeds(speeds.Low, speeds.High, options.Rows);
        return new()
        {
            PowersPercent = power.ToValueList(),
            SpeedsMmPerMin = speed.ToValueList(),
            About = about,
            Notes = [note(power, speed)]
        };
    }
}
