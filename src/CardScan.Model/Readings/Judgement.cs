using CardScan.Language;

namespace CardScan.Model;

/// <summary>What a scored reading is good for.</summary>
public enum Usability
{
    /// <summary>Its settings are as good as they say they are.</summary>
    AsItIs,

    /// <summary>It has settings, and a reason to doubt them beyond what their errors say.</summary>
    WithCare,

    /// <summary>It has no setting.</summary>
    NoSetting,

    /// <summary>It is a grey strip's, which is to have none.</summary>
    GreyStrip,
}

/// <summary>What a maker wants to know first of a reading: whether it can be used, and if not quite, the one thing to change.</summary>
/// <remarks>
/// It says nothing that the reading does not hold: it follows from the severity of the warnings, the confidence of the
/// recommendations, the share of the cells that could be used, and the advice. Severities: <see cref="CodeMeanings"/>.
/// </remarks>
/// <param name="Usability">What the reading is good for.</param>
/// <param name="Detail">The reason and what to do; empty where there is none.</param>
/// <param name="Reason">The warning that the detail tells; null where it tells none.</param>
/// <param name="Advice">The advice that the detail tells; null where it tells none.</param>
public sealed record Judgement(Usability Usability, string Detail = "", Warning? Reason = null, Advice? Advice = null)
{
    /// <summary>With fewer usable cells than this, little is left; docs/robustness.md counts so too.</summary>
    private const double LeastUsableCells = 0.6;

    /// <summary>The same of sides that could be judged: one view seldom shows them all.</summary>
    private const double LeastJudgedSides = 0.25;

    /// <summary>
    /// Less probable settings are likely, not very likely (the scale of the Intergovernmental Panel on Climate Change, as
    /// on the page).
    /// </summary>
    private const double VeryLikely = 0.9;

    /// <summary>What the reading is good for, in a sentence.</summary>
    public string Lead => Usability switch
    {
        Usability.AsItIs => Voice.Say("judgement.as-it-is", ("warnings", Despite switch { 0 => "none", 1 => "one", _ => "several" })),
        Usability.WithCare => Voice.Say("judgement.with-care"),
        Usability.GreyStrip => Voice.Say("judgement.grey-strip"),
        _ => Voice.Say("judgement.no-setting"),
    };

    /// <summary>Warnings that follow and do not keep the reading from being used as it is.</summary>
    public int Despite { get; init; }

    /// <summary>Code of what the detail tells; null where it tells no warning and no advice.</summary>
    public string? Code => Reason?.Code ?? Advice?.Code;

    /// <summary>Lead and detail.</summary>
    public string Words => Detail.Length == 0 ? Lead : $"{Lead} {Detail}";

    /// <summary>Judges a scored reading.</summary>
    /// <param name="reading">The reading.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static Judgement Of(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        if (reading.Plan.IsPrinted) return new(Usability.GreyStrip);
        Doubt[] doubts = [.. reading.Photos
            .SelectMany(photo => photo.Warnings, (photo, warning) => new Doubt(photo, warning))
            .OrderBy(doubt => CodeMeanings.RankOf(doubt.Warning.Code))];
        if (reading.Recommendations.Count == 0 && reading.Focus?.OffsetMm is null) return WithoutSetting(reading, doubts);
        if (FirstOf(reading.Advice, AdviceBearing.Danger) is { } danger) return new(Usability.WithCare, danger.Message, Advice: danger);
        if (Array.Find(doubts, doubt => IsSevere(doubt.Warning, reading)) is { } severe)
            return Because(Usability.WithCare, reading, severe);

        AdviceBearing bearing = reading.Recommendations.Any(Reading.IsUnsureCut) ? AdviceBearing.UnsureCut : AdviceBearing.UnseenLimit;
        Advice? why = FirstOf(reading.Advice, bearing);
        if (why is null && reading.Recommendations.Min(recommendation => recommendation.Confidence) is not < VeryLikely)
            return new(Usability.AsItIs) { Despite = doubts.DistinctBy(doubt => doubt.Warning.Message).Count() };
        if (doubts.Length > 0) return Because(Usability.WithCare, reading, doubts[0]);
        bool isDoubtful = reading.Recommendations.Any(Reading.IsDoubtfulCut);
        return new(
            Usability.WithCare,
            why is null ? Voice.Say("judgement.likely", ("doubtful", Figures.Is(isDoubtful))) : Sentence(why.Message), Advice: why);
    }

    /// <summary>Warnings, the most severe first; those that this version does not know come last, and equals stay in their order.</summary>
    /// <param name="warnings">The warnings.</param>
    public static IEnumerable<Warning> Sorted(IEnumerable<Warning> warnings) =>
        warnings.OrderBy(warning => CodeMeanings.RankOf(warning.Code));

    private static Judgement WithoutSetting(Reading reading, Doubt[] doubts)
    {
        if (doubts.Length > 0 && (reading.Advice.Count == 0 || FirstOf(reading.Advice, AdviceBearing.Photo) is not null))
            return Because(Usability.NoSetting, reading, doubts[0]);
        Advice? advice = reading.Advice.FirstOrDefault(each => each.Goal is not null)
            ?? (reading.Advice.Count > 0 ? reading.Advice[0] : null);
        return new(Usability.NoSetting, advice is null ? "" : Sentence(advice.Message), Advice: advice);
    }

    private static Judgement Because(Usability usability, Reading reading, Doubt doubt)
    {
        string warning = Sentence(doubt.Warning.Message);
        if (reading.Photos.Count > 1) warning = Voice.Say("judgement.in-photo", ("photo", doubt.Photo.File), ("warning", warning));
        return new(usability, warning, doubt.Warning);
    }

    private static Advice? FirstOf(IEnumerable<Advice> all, AdviceBearing bearing) =>
        all.Where(advice => CodeMeanings.BearingOf(advice.Code) == bearing).MinBy(advice => CodeMeanings.OrderOf(advice.Code));

    private static bool IsSevere(Warning warning, Reading reading) => CodeMeanings.SeverityOf(warning.Code) switch
    {
        Severity.Severe => true,
        Severity.Lost => IsLittleLeft(reading),
        _ => false,
    };

    private static bool IsLittleLeft(Reading reading)
    {
        SideReading[] sides = [.. reading.Cells.Select(cell => cell.Sides).OfType<Sides>()
            .SelectMany(cell => new[] { cell.Left, cell.Right, cell.Top, cell.Bottom })];
        return sides.Length > 0
            ? sides.Count(side => side.State != SideState.Unseen) < LeastJudgedSides * sides.Length
            : reading.Cells.Count(cell => !cell.Flags.Any(CellFlag.IsDisqualifying)) < LeastUsableCells * reading.Cells.Count;
    }

    /// <summary>A message of an older file may be no full sentence.</summary>
    private static string Sentence(string message)
    {
        string text = message.TrimEnd();
        return text.Length == 0 ? "" : $"{char.ToUpperInvariant(text[0])}{text[1..]}{(text[^1] is '.' or '!' or '?' ? "" : ".")}";
    }

    private sealed record Doubt(PhotoRecord Photo, Warning Warning);
}
