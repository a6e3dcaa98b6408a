using CardScan.Model;

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

    private static readonly HashSet<string> TooStrong = ["all-through", "saturated"];
    private static readonly HashSet<string> TooWeak = ["none-through", "no-mark", "not-levelled-off"];

    /// <summary>Null where the answer lies inside the card, or nothing is known of where it lies.</summary>
    public static Direction? DirectionOf(Reading scored, BurnedRange burned, double fullMarkShare) =>
        scored.Advice.Any(advice => TooStrong.Contains(advice.Code)) ? Direction.LessDose
        : scored.Advice.Any(advice => TooWeak.Contains(advice.Code)) || GrowsOn(scored, burned, fullMarkShare) ? Direction.MoreDose
        : null;

    /// <summary>True where the full mark lies further out than a card about the strongest cell would reach: by chance such a card can look levelled off.</summary>
    private static bool GrowsOn(Reading scored, BurnedRange burned, double fullMarkShare) =>
        scored.Plan.Process == Process.Engrave && FactorToFullMark(scored, burned.Strongest, fullMarkShare) > CentredCard.DoseReserve;

    public static NextRanges Plan(Reading scored, BurnedRange burned, Direction direction, NextCardOptions options)
    {
        SettableSteps steps = new(options.PowerStepPercent, options.SlowestMmPerMin, options.FastestMmPerMin);
        return direction == Direction.LessDose ? Less(burned, steps, options) : More(scored, burned, steps, options);
    }

    /// <summary>Speed counts first, so it takes the larger part; what the machine's fastest speed leaves undone, less power does.</summary>
    private static NextRanges Less(BurnedRange burned, SettableSteps steps, NextCardOptions options)
    {
        // At the highest power of a card the limit lies further out than at its lowest.
        double wantedSpeed = burned.Fastest * LessFactor * Math.Sqrt(burned.MostPower / burned.LeastPower);
        double fastest = Math.Max(Math.Min(wantedSpeed, options.FastestMmPerMin), options.SlowestMmPerMin);
        double slowest = Math.Min(burned.Fastest, fastest / Overlap);
        double power = burned.LeastPower / Math.Sqrt(LessFactor) * Math.Max(fastest, burned.Fastest) / wantedSpeed * Math.Sqrt(burned.MostPower / burned.LeastPower);
        double leastPower = Math.Clamp(power, options.PowerStepPercent, burned.LeastPower);
        return Ranges(burned.Weakest.Settings, steps, options, (leastPower, burned.MostPower), (slowest, fastest), (power, speed) => NextWords.Less(burned, speed[^1], power[0]));
    }

    /// <summary>Power first, since it costs no time; from 100 % on the card slows down, and at the slowest speed a pass is added.</summary>
    private static NextRanges More(Reading scored, BurnedRange burned, SettableSteps steps, NextCardOptions options)
    {
        double factor = FactorFor(scored, burned.Strongest, options.Scoring.FullMarkShare);
        double mostPower = Math.Min(SettableSteps.MostPowerPercent, burned.MostPower * factor);
        double slower = Math.Max(1, factor * burned.MostPower / mostPower);
        double slowest = Math.Max(burned.Slowest / slower, options.SlowestMmPerMin);
        CellSettings about = burned.Strongest.Settings;
        double gain = mostPower / burned.MostPower * burned.Slowest / slowest;
        if (gain < LeastGain)
        {
            CellSettings again = about with { Passes = about.Passes + 1 };
            return Ranges(again, steps, options, (burned.LeastPower, mostPower), (slowest, Math.Max(burned.Fastest, Overlap * slowest)), (_, _) => NextWords.MorePasses(again));
        }

        double fastest = Math.Max(Overlap * burned.Slowest, Overlap * slowest);
        return Ranges(about, steps, options, (Math.Min(LeastPowerShare * mostPower, burned.MostPower), mostPower), (slowest, fastest),
            (power, speed) => NextWords.More(power[^1] / burned.MostPower * burned.Slowest / speed[0], speed[0], power[^1]));
    }

    /// <summary>Times the dose of the strongest cell that the next card should reach.</summary>
    private static double FactorFor(Reading scored, CellReading strongest, double fullMarkShare)
    {
        if (scored.Plan.Process == Process.Engrave)
        {
            if (scored.Advice.Any(advice => advice.Code == "no-mark")) return 4;
            return Math.Clamp(1.2 * (FactorToFullMark(scored, strongest, fullMarkShare) ?? 2), 1.5, 4);
        }

        double open = strongest.Sides is { } sides
            ? new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.Average(side => side.OpenFraction ?? (side.State == SideState.Open ? 1 : 0))
            : 0;
        return open > 0.3 ? 1.6 : open > 0 ? 2 : 3;
    }

    /// <summary>Times the dose of a cell at which the full mark lies by best estimate; null where the marks follow no rising curve.</summary>
    private static double? FactorToFullMark(Reading scored, CellReading cell, double fullMarkShare) =>
        MarkKnowledge.Of(scored, cell.Settings, fullMarkShare)?.DoseFactorToFullMark(cell.Settings);

    private static NextRanges Ranges(
        CellSettings about, SettableSteps steps, NextCardOptions options, (double Low, double High) powers, (double Low, double High) speeds,
        Func<double[], double[], Advice> note)
    {
        double[] power = steps.SpreadPowers(powers.Low, powers.High, options.Columns), speed = steps.SpreadSpeeds(speeds.Low, speeds.High, options.Rows);
        return new() { PowersPercent = power.ToValueList(), SpeedsMmPerMin = speed.ToValueList(), About = about, Notes = [note(power, speed)] };
    }
}
