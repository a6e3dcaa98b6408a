using CardScan.Language;
using CardScan.Model;

namespace CardScan.Scoring.Comparing;

/// <summary>Holds the readings of several cards against the first.</summary>
/// <remarks>Only the cells' settings and measured values are read. Method: docs/method/comparing.md.</remarks>
public static class CardComparer
{
    /// <summary>Compares.</summary>
    /// <param name="readings">
    /// Two or more readings of one process; the first is the reference. Those without recommendations and advice are scored.
    /// </param>
    /// <param name="options">Margin, repeats, scoring.</param>
    /// <returns>The comparison, or why these readings cannot be compared.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    /// <exception cref="ArgumentException">A label is empty or stands twice.</exception>
    public static Outcome<Comparison> Compare(IReadOnlyList<LabelledReading> readings, ComparisonOptions options)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();
        CheckLabels(readings);
        if (Fault(readings) is { } fault) return fault;

        LabelledReading[] repeats = [.. options.Repeats.Select(each => Scored(each, options))];
        if (RepeatStudy.Fault(repeats) is { } noRepeats) return noRepeats;
        Repeatability? repeatability = RepeatStudy.Of(repeats);

        LabelledReading[] scored = [.. readings.Select(each => Scored(each, options))];
        ValueList<ComparedPair> pairs =
            scored.Skip(1).Select(other => PairOf(scored[0], other, options, repeatability)).ToValueList();
        return new Comparison
        {
            Format = Comparison.CurrentFormat,
            Process = scored[0].Reading.Plan.Process,
            MarginPercent = Math.Round(100 * options.Margin, 6),
            Batches = scored.Select(BatchOf).ToValueList(),
            Pairs = pairs,
            Chart = ChartOf(scored, pairs),
            Repeatability = repeatability,
        };
    }

    private static void CheckLabels(IReadOnlyList<LabelledReading> readings)
    {
        if (readings.Any(each => string.IsNullOrWhiteSpace(each.Label))) throw new ArgumentException("A label is empty.", nameof(readings));
        if (readings.DistinctBy(each => each.Label, StringComparer.Ordinal).Count() < readings.Count)
            throw new ArgumentException("A label stands twice.", nameof(readings));
    }

    private static Refusal? Fault(IReadOnlyList<LabelledReading> readings)
    {
        if (readings.Count < 2) return Refusal.OfInput(Codes.CompareFew);
        if (readings.FirstOrDefault(each => each.Reading.Plan.IsPrinted) is { } strip)
            return Refusal.OfInput(Codes.CompareStrip, ("name", strip.Label));
        LabelledReading? engraved = readings.FirstOrDefault(each => each.Reading.Plan.Process == Process.Engrave),
            cut = readings.FirstOrDefault(each => each.Reading.Plan.Process == Process.Cut);
        if (engraved is not null && cut is not null)
            return Refusal.OfInput(Codes.CompareOtherProcess, ("engraved", engraved.Label), ("cut", cut.Label));

        return SamePhoto(readings) is { } pair
            ? Refusal.OfInput(Codes.CompareSamePhoto, ("first", pair.First), ("second", pair.Second))
            : null;
    }

    /// <summary>
    /// Two readings of one card that were made from one photo, which would agree for no reason; null where there are none.
    /// </summary>
    internal static (string First, string Second)? SamePhoto(IReadOnlyList<LabelledReading> readings)
    {
        Dictionary<string, string> seen = new(StringComparer.OrdinalIgnoreCase);
        foreach (LabelledReading each in readings)
        {
            foreach (string view in each.Reading.Photos.Select(photo => $"{photo.Sha256} {each.Reading.PlanSha256}").Distinct())
            {
                if (!seen.TryAdd(view, each.Label)) return (seen[view], each.Label);
            }
        }

        return null;
    }

    private static LabelledReading Scored(LabelledReading each, ComparisonOptions options) =>
        each.Reading.Recommendations.Count > 0 || each.Reading.Advice.Count > 0
            ? each
            : each with { Reading = CardScorer.Score(each.Reading, options.Scoring) };

    private static ComparedPair PairOf(
        LabelledReading first, LabelledReading other, ComparisonOptions options, Repeatability? repeatability)
    {
        double margin = options.Margin;
        (Reading a, Reading b) = (first.Reading, other.Reading);
        ComparedLabels labels = new(first.Label, other.Label);
        double lnMargin = Math.Log(1 + margin);
        bool isEngraved = a.Plan.Process == Process.Engrave;
        // Whether light comes through a cut does not hang on tones.
        OneLight? light = isEngraved ? OneLight.Of(a, b) : null;
        PairEstimate estimate = isEngraved
            ? EngravedPair.Estimate(a, light?.InPlaceOfFirst(b) ?? b, lnMargin, light?.Doubt ?? UnlikePhotos.DoubtOf(a, b))
            : CutPair.Estimate(a, b, lnMargin);
        PairTones tones = isEngraved && light is null ? UnlikePhotos.TonesOf(a, b) : PairTones.Alike;
        // Repeated photos show what photos do by themselves, so that nothing need be feared of them.
        bool isInDoubt = light is not null || (tones != PairTones.Alike && repeatability is null);
        DoseEstimate? known = isInDoubt ? estimate.Stretched ?? estimate.Dose : estimate.Dose;
        DoseEstimate? dose = known?.NoSurerThan(Math.Sqrt(2) * (repeatability?.LnRelativeDoseDeviation ?? 0), lnMargin);
        EquivalenceTest? equivalence = dose is null ? null : EquivalenceOf(dose, lnMargin);
        Recommendation? setting = SettingTransfer.SettingOf(a);
        PairVerdict verdict = VerdictOf(estimate, dose, equivalence);
        bool isChange = verdict == PairVerdict.Different
            || (verdict == PairVerdict.Equal && a.Plan.Machine.RatedOpticalWatts != b.Plan.Machine.RatedOpticalWatts);
        SettingChange? change = isChange && setting is not null ? SettingTransfer.Of(setting, a, b, dose!) : null;
        (double, double)? unlike = repeatability is null && !isInDoubt && estimate.Stretched is { } stretched
            ? (stretched.Low, stretched.High)
            : null;
        ValueList<CellDifference> cells = CellDifferences.Of(a, b, estimate, repeatability?.WithinCellDeviation ?? 0);
        return new()
        {
            Reference = first.Label,
            Other = other.Label,
            Answer = AnswerChoice.Of(new(first, other, verdict, dose, change, unlike), options.Scoring),
            Verdict = verdict,
            Reasons = verdict switch
            {
                PairVerdict.Equal => ComparisonMessages.Equal(labels, dose!, margin, change),
                PairVerdict.Different => ComparisonMessages.Different(
                    labels, dose!, change, setting, setting is null ? default : SettingTransfer.PassesOf(setting, a, b)),
                PairVerdict.OtherShape => ComparisonMessages.OtherShape(labels, estimate.Shape!),
                _ when dose is not null => ComparisonMessages.Unclear(
                    labels, dose, margin, setting, isByPhotos: tones == PairTones.Unlike && isInDoubt),
                _ => estimate.Obstacle is { } obstacle ? ComparisonMessages.Obstacle(obstacle) : ComparisonMessages.Unbounded(labels),
            },
            RelativeDose = dose is null ? null : Told(dose),
            Shape = estimate.Shape,
            Equivalence = equivalence,
            Change = change,
            Notes =
            [
                .. isInDoubt && light is null && dose is not null ? [ComparisonMessages.TonesApart(tones)] : (ValueList<Advice>)[],
                .. Notes(first, other, estimate, dose, verdict),
                .. light is not null && dose is not null ? [ComparisonMessages.OneLight(light.DrawnOut)] : (ValueList<Advice>)[],
                .. repeatability is null && dose is not null ? PhotoNotes(a, b, unlike) : [],
            ],
            Cells = cells,
            Agreement = isEngraved
                ? AgreementLimits.Of([.. cells.Select(cell => cell.Difference)], "darkness")
                : null,
            Curves = estimate.Curves.Select((curve, i) => curve with { Label = i == 0 ? first.Label : other.Label }).ToValueList(),
        };
    }

    private static EquivalenceTest EquivalenceOf(DoseEstimate dose, double lnMargin) => new(
        dose.EquivalenceProbability, TwoOneSidedTests.Level, Told(dose.TestLow), Told(dose.TestHigh),
        dose.TestLow > -lnMargin && dose.TestHigh < lnMargin);

    private static PairVerdict VerdictOf(PairEstimate estimate, DoseEstimate? dose, EquivalenceTest? equivalence)
    {
        if (dose is null) return estimate.Shape is { AreAlike: false } ? PairVerdict.OtherShape : PairVerdict.Unclear;
        if (equivalence!.IsEquivalent) return PairVerdict.Equal;
        return dose.Low > 0 || dose.High < 0 ? PairVerdict.Different : PairVerdict.Unclear;
    }

    private static IEnumerable<Advice> Notes(
        LabelledReading first, LabelledReading other, PairEstimate estimate, DoseEstimate? dose, PairVerdict verdict)
    {
        if (estimate.Obstacle is { } obstacle) yield return obstacle;
        if (dose?.StrengthRatio is { } ratio) yield return ComparisonMessages.OwnStrength(new(first.Label, other.Label), ratio);
        // What is equal has no cause to look for.
        if (verdict != PairVerdict.Equal || first.Reading.Plan.Machine != other.Reading.Plan.Machine)
            yield return ComparisonMessages.Cause(first.Reading.Plan, other.Reading.Plan);
    }

    /// <summary>What two photos may do by themselves, which only repeated photos could tell.</summary>
    private static IEnumerable<Advice> PhotoNotes(Reading first, Reading other, (double Low, double High)? unlike)
    {
        if (unlike is var (low, high)) yield return ComparisonMessages.UnlikePhotos(low, high);
        if (first.PlanSha256 is { } plan && plan == other.PlanSha256) yield return ComparisonMessages.OnePlan();
    }

    private static RelativeDose Told(DoseEstimate dose) => new(Told(dose.LnRatio), Told(dose.Low), Told(dose.High), dose.Model)
    {
        SpeedExponent = dose.SpeedExponent is { } exponent ? Math.Round(exponent, 4) : null,
        StrengthRatio = dose.StrengthRatio is { } ratio ? Math.Round(ratio, 4) : null,
    };

    private static double Told(double ln) => Math.Round(Math.Exp(ln), 5);

    private static ComparedBatch BatchOf(LabelledReading each) => new(
        each.Label, each.Reading.Plan.Number, each.Reading.Plan.Material, each.Reading.Plan.Machine, UsedCells(each.Reading))
    { PlanSha256 = each.Reading.PlanSha256, Taken = TakenOf(each.Reading) };

    private static DateTime? TakenOf(Reading reading) => reading.Photos.Max(photo => photo.Taken);

    internal static int UsedCells(Reading reading) => reading.Plan.Process == Process.Engrave
        ? Engraving.EngravedCard.Of(reading).Marked.Count(cell => !reading.Cells.Any(other =>
            other.Row == cell.Cell.Address.Row && other.Column == cell.Cell.Address.Column && other.Flags.Contains(CellFlag.Outlier)))
        : Cutting.CutCard.Of(reading).Cells.Count;

    private static ControlChart? ChartOf(LabelledReading[] readings, ValueList<ComparedPair> pairs)
    {
        (DateTime? Taken, string Label, RelativeDose Dose)[] known =
        [
            (TakenOf(readings[0].Reading), readings[0].Label, new(1, 1, 1, "")),
            .. readings.Skip(1).Zip(pairs).Where(each => each.Second.RelativeDose is not null)
                .Select(each => (TakenOf(each.First.Reading), each.First.Label, each.Second.RelativeDose!)),
        ];
        if (known.Length < 3) return null;
        if (known.All(each => each.Taken is not null)) known = [.. known.OrderBy(each => each.Taken)];
        double[] lnRatios = [.. known.Select(each => Math.Log(each.Dose.Value))];
        IndividualsChart chart = IndividualsChart.Of(lnRatios);
        ControlPoint[] points =
        [
            .. known.Select((each, i) => new ControlPoint(
                each.Label, each.Dose.Value, each.Dose.Low, each.Dose.High, chart.IsOutside(lnRatios[i])) { Taken = each.Taken }),
        ];
        Plan first = readings[0].Reading.Plan;
        bool isOneBatch = readings.All(each => ComparisonMessages.Cause(first, each.Reading.Plan).Code == Codes.CauseMachine);
        string[] outside = [.. points.Where(point => point.IsOutside).Select(point => point.Label)];
        return new(points.ToValueList(), Told(chart.Centre), Told(chart.Lower), Told(chart.Upper))
        {
            Reasons = [.. ComparisonMessages.ChartFinding(outside, IndividualsChart.TrendOf(lnRatios), points.Length, isOneBatch)],
        };
    }
}
