using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>A sure cut between burned cells: inside the card's range, in steps that a maker sets, and worth its own burning.</summary>
internal static class CutBetween
{
    /// <summary>Times the burned setting's speed from which on an unburned one is worth a word.</summary>
    private const double LeastGain = 1.1;

    private const double SpeedStepMmPerMin = 10;

    /// <summary>The fastest such setting, then that with the least power; null where it would gain little.</summary>
    public static UnburnedSetting? FasterThan(CutEstimate burned, CutLaw law, CutCard card, double confidence)
    {
        CutModel model = law.Fast;
        // Between two ends, and below a limit that was not seen, only what was burned is sure.
        if (!model.IsMonotone || law.Slow is not null || !card.IsMixed) return null;
        CellSettings own = burned.Cell.Settings;
        CutCell[] alike =
            [.. card.Cells.Where(cell => cell.Settings.Passes == own.Passes && cell.Settings.FocusOffsetMm == own.FocusOffsetMm)];
        int mostPower = (int)Math.Floor(alike.Max(cell => cell.Settings.PowerPercent));
        int leastPower = (int)Math.Ceiling(alike.Min(cell => cell.Settings.PowerPercent));
        int leastSteps = (int)Math.Ceiling(LeastGain * own.SpeedMmPerMin / SpeedStepMmPerMin);
        int mostSteps = (int)Math.Floor(alike.Max(cell => cell.Settings.SpeedMmPerMin) / SpeedStepMmPerMin);

        // More power or less speed never lowers the limit, so the ends of what is sure are found by halving.
        if (LastWhere(leastSteps, mostSteps, steps => IsSure(mostPower, steps)) is not { } fastest) return null;
        int power = -LastWhere(-mostPower, -leastPower, negative => IsSure(-negative, fastest))!.Value;
        double speed = fastest * SpeedStepMmPerMin;
        if (alike.Any(cell => cell.IsSeenHeld && cell.Settings.PowerPercent >= power && cell.Settings.SpeedMmPerMin <= speed)) return null;

        CutPoint point = At(power, fastest);
        Estimate through = model.Expected(point).And(law.OtherwiseAt(burned.Cell));
        return new()
        {
            PowerPercent = power,
            SpeedMmPerMin = speed,
            Confidence = CutScorer.StatedOf(through, confidence),
            Reasons = [CutMessages.Between(through, burned.Cell.SecondsPerMetre * own.SpeedMmPerMin / speed, burned)],
            Interval = CutScorer.IntervalOf(through),
        };

        bool IsSure(int powerPercent, int speedSteps) => model.ThroughLimit(At(powerPercent, speedSteps), isUpper: false) >= confidence;
        CutPoint At(int powerPercent, int speedSteps) =>
            burned.Cell.Point with { LnPower = Math.Log(powerPercent), LnSpeed = Math.Log(speedSteps * SpeedStepMmPerMin) };
    }

    /// <summary>
    /// The last number for which something holds that holds up to some number and not beyond; null where it holds for none.
    /// </summary>
    private static int? LastWhere(int first, int last, Func<int, bool> holds)
    {
        if (first > last || !holds(first)) return null;
        (int inside, int outside) = (first, last + 1);
        while (outside - inside > 1)
        {
            int middle = inside + (outside - inside) / 2;
            if (holds(middle)) inside = middle;
            else outside = middle;
        }

        return inside;
    }
}
