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
}

/// <summary>What a maker wants to know first of a reading: whether it can be used, and if not quite, the one thing to change.</summary>
/// <remarks>
/// It says nothing that the reading does not hold: it follows from the gravity of the warnings, the confidence of the
/// recommendations, the share of the cells that could be used, and the advice. Which warnings are grave: docs/messages.md.
/// </remarks>
/// <param name="Usability">What the reading is good for.</param>
/// <param name="Lead">The same in a sentence.</param>
/// <param name="Detail">The reason and what to do; empty where there is none.</param>
/// <param name="Reason">The warning that the detail tells; null where it tells none.</param>
public sealed record Judgement(Usability Usability, string Lead, string Detail, Warning? Reason = null)
{
    /// <summary>The advice that the detail tells; null where it tells none.</summary>
    public Advice? Advice { get; private init; }

    /// <summary>Warnings for which the photo should be taken again, or something else mended, the gravest first.</summary>
    private static readonly string[] Grave =
    [
        "grid-order-unknown", "front-lit-cut", "thickness-missing", "motion-blur", "soft", "tilted", "few-pixels", "pose-residual", "grid-residual", "photos-disagree", "veil", "uneven-light",
    ];

    /// <summary>Warnings of cells and sides that are lost: grave only where so many are that little is left.</summary>
    private static readonly string[] Lost = ["cells-clipped", "cells-glare", "cells-out-of-frame", "sides-unseen"];

    /// <summary>Warnings of what the errors of the cells hold, or what hardly matters, likewise.</summary>
    private static readonly string[] Slight =
    [
        "marker-missing", "bowed", "cells-uneven-ground", "light-gradient", "local-tone", "soot", "noisy", "dark", "greys-misfit", "greys-unmeasured", "sheet-scale", "focal-length-assumed", "tabs-burned", "colour-profile-ignored", "stray-marker",
    ];

    private static readonly string[] ByGravity = [.. Grave, .. Lost, .. Slight];

    /// <summary>Advice that another photo of the card may make superfluous.</summary>
    private static readonly string[] OfPhotos = ["nothing-measured", "too-few-cells", "no-order", "no-sides-judged", "unseen-cells", "sides-missing", "lines-unresolved"];

    /// <summary>Advice that the limit lies outside the card: what was burned may be far more than is needed.</summary>
    private static readonly string[] OfUnseenLimits = ["all-through", "saturated"];

    /// <summary>With fewer usable cells than this, little is left; docs/robustness.md counts so too.</summary>
    private const double LeastUsableCells = 0.6;

    /// <summary>The same of sides that could be judged: one view seldom shows them all.</summary>
    private const double LeastJudgedSides = 0.25;

    /// <summary>Less probable settings are likely, not very likely (the scale of the Intergovernmental Panel on Climate Change, as on the page).</summary>
    private const double VeryLikely = 0.9;

    /// <summary>Lead and detail.</summary>
    public string Words => Detail.Length == 0 ? Lead : $"{Lead} {Detail}";

    /// <summary>Judges a scored reading.</summary>
    /// <param name="reading">The reading.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static Judgement Of(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        (PhotoRecord Photo, Warning Warning)[] doubts = [.. reading.Photos.SelectMany(photo => photo.Warnings, (photo, warning) => (photo, warning)).OrderBy(doubt => RankOf(doubt.warning))];
        if (reading.Recommendations.Count == 0 && reading.Focus?.OffsetMm is null) return WithoutSetting(reading, doubts);

        const string care = "This reading can be used with care.";
        if (doubts.Any(doubt => IsGrave(doubt.Warning, reading))) return Because(Usability.WithCare, care, reading, doubts.First(doubt => IsGrave(doubt.Warning, reading)));
        Advice? why = reading.Recommendations.Any(Reading.IsUnsureCut)
            ? Reading.WhyUnsure.Select(code => reading.Advice.FirstOrDefault(advice => advice.Code == code)).FirstOrDefault(advice => advice is not null)
            : reading.Advice.FirstOrDefault(advice => OfUnseenLimits.Contains(advice.Code));
        if (why is null && reading.Recommendations.Min(recommendation => recommendation.Confidence) is not < VeryLikely) return new(Usability.AsItIs, "This reading can be used as it is.", "");
        if (doubts.Length > 0) return Because(Usability.WithCare, care, reading, doubts[0]);
        return new(Usability.WithCare, care, Sentence(why?.Message ?? "The setting is likely, not sure: try it on a scrap, or burn a finer card (cardscan next)")) { Advice = why };
    }

    /// <summary>Warnings, the gravest first; those that this version does not know come last, and equals stay in their order.</summary>
    /// <param name="warnings">The warnings.</param>
    public static IEnumerable<Warning> Sorted(IEnumerable<Warning> warnings) => warnings.OrderBy(RankOf);

    private static Judgement WithoutSetting(Reading reading, (PhotoRecord Photo, Warning Warning)[] doubts)
    {
        const string none = "No setting from this reading.";
        if (doubts.Length > 0 && (reading.Advice.Count == 0 || reading.Advice.Any(advice => OfPhotos.Contains(advice.Code)))) return Because(Usability.NoSetting, none, reading, doubts[0]);
        Advice? advice = reading.Advice.FirstOrDefault(each => each.Goal is not null) ?? (reading.Advice.Count > 0 ? reading.Advice[0] : null);
        return new(Usability.NoSetting, none, advice is null ? "" : Sentence(advice.Message)) { Advice = advice };
    }

    private static Judgement Because(Usability usability, string lead, Reading reading, (PhotoRecord Photo, Warning Warning) doubt) =>
        new(usability, lead, (reading.Photos.Count > 1 ? $"{doubt.Photo.File}: " : "") + Sentence(doubt.Warning.Message), doubt.Warning);

    private static bool IsGrave(Warning warning, Reading reading) => Grave.Contains(warning.Code) || (Lost.Contains(warning.Code) && IsLittleLeft(reading));

    private static bool IsLittleLeft(Reading reading)
    {
        SideReading[] sides = [.. reading.Cells.Select(cell => cell.Sides).OfType<Sides>().SelectMany(cell => new[] { cell.Left, cell.Right, cell.Top, cell.Bottom })];
        return sides.Length > 0
            ? sides.Count(side => side.State != SideState.Unseen) < LeastJudgedSides * sides.Length
            : reading.Cells.Count(cell => !cell.Flags.Any(CellFlag.IsDisqualifying)) < LeastUsableCells * reading.Cells.Count;
    }

    private static int RankOf(Warning warning) => Array.IndexOf(ByGravity, warning.Code) is >= 0 and int rank ? rank : ByGravity.Length;

    private static string Sentence(string message)
    {
        string text = message.TrimEnd();
        return text.Length == 0 ? "" : $"{char.ToUpperInvariant(text[0])}{text[1..]}{(text[^1] is '.' or '!' or '?' ? "" : ".")}";
    }
}
