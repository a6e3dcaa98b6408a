using CardScan.Model;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>Where the answer is lost again with more energy: a mark weakens, a cut closes. No next card goes there.</summary>
/// <param name="MostDose">Most power, percent, over speed, mm/min, passes counted; infinite where no such end is known.</param>
/// <param name="Slowest">Slowest speed that is still before the end, mm/min; zero where speed alone is no end.</param>
internal sealed record FarEnd(double MostDose, double Slowest)
{
    /// <summary>Codes of the scoring's advice about an end.</summary>
    private const string Weakens = "weakens-at-high-dose", ClosesAgain = "closes-again";

    /// <summary>Figure of an engraved card's model that says where the mark is strongest, in the unit of the cells' dose.</summary>
    private const string PeakDose = "peakDose";

    /// <summary>A dose that is the end to rounding.</summary>
    private const double Rounding = 1.001;

    /// <summary>No end is known.</summary>
    public static FarEnd None { get; } = new(double.PositiveInfinity, 0);

    public bool IsKnown => double.IsFinite(MostDose);

    /// <summary>What the scored cards say of it: the nearest of their ends.</summary>
    public static FarEnd Of(IEnumerable<Reading> cards)
    {
        FarEnd[] ends = [.. cards.Select(OfOne)];
        return new(ends.Min(end => end.MostDose), ends.Max(end => end.Slowest));
    }

    /// <summary>True where a setting does not lie past the end.</summary>
    public bool IsBefore(CellSettings settings) => DoseOf(settings) <= MostDose * Rounding && settings.SpeedMmPerMin >= Slowest / Rounding;

    public static double DoseOf(CellSettings settings) => settings.PowerPercent * settings.Passes / settings.SpeedMmPerMin;

    private static FarEnd OfOne(Reading card) =>
        card.Advice.Any(advice => advice.Code == Weakens) ? new(PeakOf(card) ?? HighestOf(card), 0)
        : card.Advice.Any(advice => advice.Code == ClosesAgain) ? WindowOf(card)
        : None;

    /// <summary>Null where the model gives no peak: then it is only known not to go further.</summary>
    private static double? PeakOf(Reading card) =>
        card.Model?.Parameters.TryGetValue(PeakDose, out Measured? dose) == true
        && card.Cells.FirstOrDefault(cell =>
            cell.Dose is { Value: > 0 } && cell.Settings is { PowerPercent: > 0, SpeedMmPerMin: > 0, Passes: > 0 }) is { } cell
            ? dose.Value / cell.Dose!.Value * DoseOf(cell.Settings) : null;

    private static double HighestOf(Reading card) =>
        card.Cells.Where(cell => cell.Settings.SpeedMmPerMin > 0).Max(cell => DoseOf(cell.Settings));

    /// <summary>A cut that closes again, by dose or by speed: not past the cells that came through.</summary>
    private static FarEnd WindowOf(Reading card)
    {
        CellSettings[] through =
            [.. card.Cells.Where(cell => cell.Through == Opening.Through && cell.Settings is { PowerPercent: > 0, SpeedMmPerMin: > 0 })
                .Select(cell => cell.Settings)];
        return through.Length == 0 ? None : new(through.Max(DoseOf), through.Min(settings => settings.SpeedMmPerMin));
    }
}
