using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Comparing;

/// <summary>The one answer for a later batch, in words.</summary>
/// <param name="pair">What was found.</param>
/// <param name="own">The later card's own recommendation; null where it has none.</param>
/// <param name="offer">The first card's setting, kept or carried over; null where there is none.</param>
/// <param name="demanded">Probability demanded, 0 to 1.</param>
/// <param name="together">
/// Probability of the later card's own setting by both cards, where the later one has fewer cells; null where it is not asked for.
/// </param>
internal sealed class AnswerMessages(
    PairFindings pair, Recommendation? own, SettingOffer? offer, double demanded, double? together)
{
    private readonly ComparedLabels _labels = new(pair.First.Label, pair.Later.Label);

    /// <summary>The later card's own setting; null where it has none.</summary>
    public SettingFigure? OwnFigure { get; } = own is null ? null
        : (pair.Later.Reading.CellOf(own)?.Settings.ToFigure(pair.Later.Reading.Plan)
            ?? new SettingFigure(0, 0, pair.Later.Reading.Plan.Fixed.Passes ?? 1)) with
        {
            SpeedMmPerMin = own.SpeedMmPerMin, PowerPercent = own.PowerPercent,
        };

    /// <summary>The later card's own reading is sure enough.</summary>
    /// <param name="isSame">True where the first card's setting comes to the same.</param>
    /// <param name="chance">Its probability.</param>
    public ValueList<Reason> Own(bool isSame, double chance)
    {
        bool isKept = offer is not null && OwnFigure is { } figure && FromFigure is { } from
            && (figure.SpeedMmPerMin, figure.PowerPercent, figure.Passes) == (from.SpeedMmPerMin, from.PowerPercent, from.Passes);
        List<Reason> reasons =
            [Sentence(Codes.AnswerOwn, ("setting", OwnFigure!), ("chance", Share(chance)), ("kept", isKept ? "yes" : "no"))];
        if (isSame) reasons.Add(Sentence(Codes.AnswerAgree));
        else if (offer is not null) reasons.Add(Sentence(Codes.AnswerTrustOwn, [.. OfferValues(), .. FewerCells()]));
        return [.. reasons, .. Doubt()];
    }

    /// <summary>The batches are equal and the first card's setting still serves.</summary>
    /// <param name="isOwnSure">True where the later card's own reading has a setting that is sure enough.</param>
    /// <param name="isSame">True where that is the same.</param>
    public ValueList<Reason> Kept(bool isOwnSure, bool isSame) =>
    [
        Sentence(Codes.AnswerKept, ("setting", offer!.Figure), ("chance", Share(offer.Least!.Value))),
        isOwnSure && isSame ? Sentence(Codes.AnswerAgree)
            : isOwnSure ? Sentence(Codes.AnswerTrustKept, ("own", OwnFigure!), ("chance", Share(own!.Confidence!.Value)))
            : OwnUnsure(),
        .. Doubt(),
    ];

    /// <summary>The first card's setting is carried over, because the later card alone is not sure.</summary>
    public ValueList<Reason> Carried() =>
    [
        Sentence(Codes.AnswerCarried, ("setting", offer!.Figure), ("from", FromFigure), ("chance", Share(offer.Least!.Value))),
        OwnUnsure(), .. Doubt(),
    ];

    /// <summary>Nothing is sure enough.</summary>
    public ValueList<Reason> None() =>
    [
        Sentence(Codes.AnswerNone, ("demanded", Share(demanded))), OwnUnsure(),
        .. offer?.Chance is null ? [] : (Reason[])[Sentence(Codes.AnswerOfferUnsure, OfferValues())],
        .. Doubt(),
    ];

    private SettingFigure FromFigure => offer!.Figure with
    {
        SpeedMmPerMin = offer.Setting.From.SpeedMmPerMin, PowerPercent = offer.Setting.From.PowerPercent,
    };

    private Reason OwnUnsure()
    {
        int cells = Cells(pair.Later.Reading);
        if (own?.Confidence >= demanded && together < demanded)
        {
            return Sentence(Codes.AnswerOwnDoubted,
                ("own", OwnFigure!), ("chance", Share(own.Confidence.Value)), ("together", Share(together.Value)),
                ("cells", cells), ("first-cells", Cells(pair.First.Reading)));
        }

        return own?.Confidence is { } chance
            ? Sentence(Codes.AnswerOwnUnsure, ("cells", cells), ("near", OwnFigure!), ("chance", Share(chance)))
            : Sentence(Codes.AnswerOwnUnsure, ("cells", cells));
    }

    /// <summary>The setting carried over, and what its probability lacks.</summary>
    private (string, Figure)[] OfferValues()
    {
        (string lacks, double told) = offer switch
        {
            { Chance: { } chance } when chance < demanded => ("chance", chance),
            { OwnChance: { } byOwn } when byOwn < demanded => ("own", byOwn),
            { OwnChance: null, UnlikeChance: { } unlike } when unlike < demanded => ("photos", unlike),
            { Chance: { } chance } => ("nothing", chance),
            _ => ("unknown", 0),
        };
        return [("carried", offer!.Figure), ("lacks", lacks), ("chance", Share(told))];
    }

    /// <summary>True where the later card has fewer usable cells.</summary>
    public static bool HasFewerCells(PairFindings pair) => Cells(pair.Later.Reading) < Cells(pair.First.Reading);

    private IEnumerable<(string, Figure)> FewerCells() =>
        HasFewerCells(pair) ? [("cells", Cells(pair.Later.Reading)), ("first-cells", Cells(pair.First.Reading))] : [];

    /// <summary>A photo so doubtful that its settings are to be used with care, said before anybody relies on them.</summary>
    private IEnumerable<Reason> Doubt() => Judgement.Of(pair.Later.Reading) is { Reason: not null, Detail: var detail }
        ? [Sentence(Codes.AnswerDoubt, ("doubt", detail))]
        : [];

    private static int Cells(Reading reading) => CardComparer.UsedCells(reading);

    private Reason Sentence(string code, params IEnumerable<(string, Figure)> values) =>
        new(code, [.. _labels.Values, ("process", $"{pair.Later.Reading.Plan.Process}"), .. values]);
}
