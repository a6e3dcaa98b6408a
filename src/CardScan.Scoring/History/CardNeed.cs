using CardScan.Model;
using CardScan.Scoring.Cutting;
using CardScan.Scoring.Engraving;
using MathNet.Numerics.RootFinding;

namespace CardScan.Scoring.History;

/// <summary>What a card tells of the energy that it needed.</summary>
/// <remarks>docs/method/history.md.</remarks>
public static class CardNeed
{
    /// <summary>β of cards that do not tell their own lies about 1 by so much (as the next card is planned).</summary>
    private const double UsualExponentError = 0.3;

    /// <summary>A card that has a setting and does not show its half knows the energy as well as deliveries agree (a judgement).</summary>
    private static readonly double UnknownError = Math.Log(KeptSetting.AgreeingFactor);

    private const double Half = 0.5;

    /// <summary>Beyond the card's doses by a larger factor, its half is not seen but guessed.</summary>
    private const double MostBeyond = 1.5;

    private const double RootAccuracy = 1e-7;

    /// <summary>What it tells by its own cells, whatever cards it was scored with.</summary>
    /// <param name="reading">The card's reading.</param>
    /// <exception cref="ArgumentNullException">There is no reading.</exception>
    public static ReadingNeed Of(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return new(NeedOf(reading), MannerOf(reading), reading.Photos.Max(photo => photo.Taken));
    }

    /// <summary>What stands for the errors of a need that the card does not tell.</summary>
    /// <param name="speedMmPerMin">A speed at which it has a setting.</param>
    internal static EnergyNeed Unknown(double speedMmPerMin) => new(0, UnknownError, speedMmPerMin, 1, UsualExponentError);

    private static EnergyNeed? NeedOf(Reading reading) => reading.Plan switch
    {
        { IsPrinted: true } or { Kind: CardKind.FocusLadder } => null,
        { Process: Process.Cut } => OfCut(CutCard.Of(reading), reading.Plan.Machine.RatedOpticalWatts),
        _ => OfEngraved(EngravedCard.Of(reading)),
    };

    /// <summary>Passes, line intervals and focus offsets of its cells: marks of others need another energy.</summary>
    private static string MannerOf(Reading reading) => string.Join(' ', reading.Plan.Cells.Select(reading.Plan.SettingsOf)
        .Select(each => FormattableString.Invariant($"{each.Passes}/{each.LineIntervalMm:0.###}/{each.FocusOffsetMm:0.###}"))
        .Distinct());

    private static EnergyNeed? OfEngraved(EngravedCard card)
    {
        if (LawFitter.Fit(card)?.Best is not { } fit) return null;
        double[] p = fit.Parameters.ToArray();
        double lnHighest = fit.Law.LnHighestDose(p);
        double lnLeast = Enumerable.Range(0, card.Marked.Count).Min(cell => fit.Law.LnEffectiveDose(p, cell));
        if (LnHalfDose(fit.Law, p) is not { } ln || ln < lnLeast - Math.Log(MostBeyond) || ln > lnHighest) return null;
        double error = fit.StandardError(at => LnHalfDose(fit.Law, at) ?? ln);
        return fit.HasFreeSpeedExponent
            ? new(ln, error, card.MiddleSpeedMmPerMin, p[DoseLaw.SpeedExponent], fit.StandardError(at => at[DoseLaw.SpeedExponent]))
            : new(ln, error, card.MiddleSpeedMmPerMin, 1, UsualExponentError);
    }

    /// <summary>ln of the effective dose of half the strongest mark; null where that lies far below the card's doses.</summary>
    private static double? LnHalfDose(DoseLaw law, double[] p)
    {
        double lnPeak = Math.Log(law.Curve.Peak(law.ShapeOf(p)));
        return Brent.TryFindRoot(
            lnPart => law.ShareAt(p, Math.Exp(lnPart)) - Half, lnPeak - Math.Log(1e4), lnPeak, RootAccuracy, 100, out double root)
            ? root + law.LnHighestDose(p)
            : null;
    }

    private static EnergyNeed? OfCut(CutCard card, double ratedWatts)
    {
        if (!card.IsMixed || CutModel.Fit(card) is not { IsReversed: false } model) return null;
        double lnSpeed = card.Cells.Average(cell => cell.Point.LnSpeed);
        CutPoint middle = card.Cells.MinBy(cell => Math.Abs(cell.Point.LnSpeed - lnSpeed))!.Point;
        if (model.HalfwayPower(middle) is not { } power || !(power.Low > 0) || !double.IsFinite(power.High)) return null;
        // W over mm/s, once a pass.
        double lnEnergy = Math.Log(power.Value / 100 * ratedWatts * 60) - middle.LnSpeed + middle.LnPasses;
        double error = Math.Log(power.High / power.Low) / (2 * NormalQuantile.TwoSided95);
        double exponent = model.SpeedExponent is { } speed && model.PowerExponent is { } both ? speed.Value / both.Value : 1;
        // Of a card whose sides open all at once, the ratio of the exponents is anything.
        exponent = double.IsFinite(exponent) ? Math.Clamp(exponent, 0.5, 2) : 1;
        return new(lnEnergy, error, Math.Exp(middle.LnSpeed), exponent, UsualExponentError);
    }
}
