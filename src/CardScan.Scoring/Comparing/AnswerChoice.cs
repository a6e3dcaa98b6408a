using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Comparing;

/// <summary>What a comparison has found of a pair before it answers.</summary>
/// <param name="First">The reference.</param>
/// <param name="Later">The later card.</param>
/// <param name="Verdict">What came of the pair.</param>
/// <param name="Dose">The relative dose; null where none can be claimed.</param>
/// <param name="Change">The first card's setting, carried over; null where nothing changes or can be carried.</param>
/// <param name="UnlikePhotos">
/// 95 % limits of the relative dose, ln, where the photos bent tones differently; null where that cannot be told, or repeats tell it.
/// </param>
internal sealed record PairFindings(
    LabelledReading First, LabelledReading Later, PairVerdict Verdict, DoseEstimate? Dose, SettingChange? Change,
    (double Low, double High)? UnlikePhotos);

/// <summary>The first card's setting on the later batch, with how sure it is.</summary>
/// <param name="Setting">Where it comes from and what it becomes.</param>
/// <param name="Figure">The same for a sentence.</param>
/// <param name="Chance">Probability by both cards, for photos taken alike; null where nothing tells it.</param>
/// <param name="OwnChance">Probability by the later card's own boundary; null where it has none.</param>
/// <param name="UnlikeChance">As <paramref name="Chance"/>, for photos that may have bent tones differently; null where alike.</param>
internal sealed record SettingOffer(
    TransferredSetting Setting, SettingFigure Figure, double? Chance, double? OwnChance, double? UnlikeChance)
{
    /// <summary>
    /// The least of what the two cards tell. What two photos may do by themselves does not count where the later card's own
    /// boundary speaks: it compares cells of one photo.
    /// </summary>
    public double? Least => Chance is null ? null : Math.Min(Chance.Value, OwnChance ?? UnlikeChance ?? 1);
}

/// <summary>The one setting to use now for the later batch.</summary>
/// <remarks>docs/method/comparing.md, "The one answer".</remarks>
internal static class AnswerChoice
{
    /// <summary>Settings nearer than this are one to a maker: a step of most machines' dials.</summary>
    private const double SameSetting = 0.02;

    public static BatchAnswer Of(PairFindings pair, ScoringOptions options)
    {
        (Reading first, Reading later) = (pair.First.Reading, pair.Later.Reading);
        bool isCut = later.Plan.Process == Process.Cut;
        (string goal, double demanded) =
            isCut ? (Goal.SureCut, options.CutConfidence) : (Goal.FastestFullMark, options.FullMarkConfidence);
        Recommendation? own = later.Recommendations.FirstOrDefault(each => each.Goal == goal);
        SettingOffer? offer = first.Recommendations.FirstOrDefault(each => each.Goal == goal) is { } old
            ? OfferOf(old, pair, demanded)
            : null;
        double? together = own is not null && offer is not null && AnswerMessages.HasFewerCells(pair)
            ? TransferChance.Of(
                offer.Setting with { SpeedMmPerMin = own.SpeedMmPerMin, PowerPercent = own.PowerPercent }, first, pair.Dose!, demanded)
            : null;
        AnswerMessages messages = new(pair, own, offer, demanded, together);
        BatchAnswer none = new()
        {
            Source = AnswerSource.None, Goal = goal, DemandedConfidence = demanded,
            TransferConfidence = offer?.Chance is { } chance ? CutScorer.Rounded(chance) : null,
        };

        // Few cells flatter a setting now and then; where the first card has more of them, it is heard too.
        double? ownChance = own?.Confidence is { } stated ? Math.Min(stated, together ?? 1) : null;
        bool isOwnSure = ownChance >= demanded, isOfferSure = offer?.Least >= demanded;
        bool isSame = own is not null && offer is not null && IsSame(own, offer.Setting);
        if (isOfferSure && IsKept(offer!.Setting))
            return With(none, AnswerSource.KeptSetting, offer, messages.Kept(isOwnSure, isSame));
        if (isOwnSure)
        {
            return none with
            {
                Source = AnswerSource.OwnReading,
                SpeedMmPerMin = own!.SpeedMmPerMin, PowerPercent = own.PowerPercent, Passes = messages.OwnFigure!.Passes,
                Confidence = CutScorer.Rounded(ownChance!.Value),
                Reasons = messages.Own(isSame, ownChance.Value),
            };
        }

        return isOfferSure
            ? With(none, AnswerSource.CarriedOver, offer!, messages.Carried())
            : none with { Reasons = messages.None() };
    }

    private static BatchAnswer With(BatchAnswer none, AnswerSource source, SettingOffer offer, ValueList<Reason> reasons) => none with
    {
        Source = source,
        SpeedMmPerMin = offer.Setting.SpeedMmPerMin, PowerPercent = offer.Setting.PowerPercent, Passes = offer.Figure.Passes,
        Confidence = CutScorer.Rounded(offer.Least!.Value),
        Reasons = reasons,
    };

    /// <summary>Kept where the batches are equal, changed where a change is known; null where there is neither.</summary>
    private static SettingOffer? OfferOf(Recommendation old, PairFindings pair, double demanded)
    {
        if (pair.Dose is not { } dose) return null;
        (Reading first, Reading later) = (pair.First.Reading, pair.Later.Reading);
        double lnWatts = Math.Log(later.Plan.Machine.RatedOpticalWatts / first.Plan.Machine.RatedOpticalWatts);
        TransferredSetting setting;
        if (pair.Change is { } change) setting = new(old, change.ToSpeedMmPerMin, change.ToPowerPercent, lnWatts);
        else if (pair.Verdict == PairVerdict.Equal && lnWatts == 0) setting = new(old, old.SpeedMmPerMin, old.PowerPercent, lnWatts);
        else return null;

        CellSettings? burned = first.CellOf(old)?.Settings;
        SettingFigure figure = (burned?.ToFigure(first.Plan) ?? new(0, 0, first.Plan.Fixed.Passes ?? 1)) with
        {
            SpeedMmPerMin = setting.SpeedMmPerMin, PowerPercent = setting.PowerPercent,
        };
        bool isBurnedAlike = burned is not null && later.Cells.All(cell =>
            (cell.Settings.Passes, cell.Settings.LineIntervalMm, cell.Settings.FocusOffsetMm)
            == (burned.Passes, burned.LineIntervalMm, burned.FocusOffsetMm));
        return new(
            setting, figure, TransferChance.Of(setting, first, dose, demanded),
            isBurnedAlike ? TransferChance.OwnChance(later, setting.SpeedMmPerMin, setting.PowerPercent) : null,
            pair.UnlikePhotos is var (low, high)
                ? TransferChance.Of(setting, first, dose with { Low = low, High = high }, demanded)
                : null);
    }

    private static bool IsKept(TransferredSetting setting) =>
        setting.SpeedMmPerMin == setting.From.SpeedMmPerMin && setting.PowerPercent == setting.From.PowerPercent;

    private static bool IsSame(Recommendation own, TransferredSetting setting) =>
        Math.Abs(Math.Log(own.SpeedMmPerMin / setting.SpeedMmPerMin)) <= SameSetting
        && Math.Abs(Math.Log(own.PowerPercent / setting.PowerPercent)) <= SameSetting;
}
