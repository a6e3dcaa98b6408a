using System.Text.Json.Serialization;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>Everything measured from one or more photos of one card (<c>reading.json</c>). What was not measured is absent.</summary>
public sealed record Reading : Extensible
{
    /// <summary>The format this version writes.</summary>
    public const string CurrentFormat = "cardscan-reading/1";

    /// <summary>Format name and version.</summary>
    public required string Format { get; init; }

    /// <summary>The whole plan, so that a reading stands alone.</summary>
    public required Plan Plan { get; init; }

    /// <summary>SHA-256 of the plan's file, lower-case hexadecimal.</summary>
    public string? PlanSha256 { get; init; }

    /// <summary>The photos it was measured from.</summary>
    public ValueList<PhotoRecord> Photos { get; init => field = value ?? []; } = [];

    /// <summary>The photos that darkness comes from: those whose tones are known where there are any, else all.</summary>
    [JsonIgnore]
    public IEnumerable<PhotoRecord> TonePhotos =>
        Photos.Any(IsKnown) ? Photos.Where(IsKnown) : Photos;

    private static bool IsKnown(PhotoRecord photo) => photo.Response is { IsMeasured: true };

    /// <summary>The cells, in the plan's order.</summary>
    public required ValueList<CellReading> Cells { get; init; }

    /// <summary>Kerf of a cut card; absent where no open side could be measured.</summary>
    public CardKerf? Kerf { get; init; }

    /// <summary>Best focus and beam size; absent unless the card is a focus ladder.</summary>
    public FocusResult? Focus { get; init; }

    /// <summary>True where a recommended cut has dose enough, but bridges that dose does not cure keep it from being sure.</summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public bool IsHeldByBridges(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        return IsUnsureCut(recommendation) && Advice.Any(advice => advice.Code == Codes.BridgedSides);
    }

    /// <summary>
    /// What was measured of the cell that a recommendation names, on whichever card it stands; null where it names none, or
    /// one that is not here.
    /// </summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public CellReading? CellOf(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        if (recommendation.Card is not null) return recommendation.EarlierCell;
        return recommendation.Cell is { } at ? Cells.FirstOrDefault(cell => cell.Row == at.Row && cell.Column == at.Column) : null;
    }

    /// <summary>
    /// True where a recommended cut is less probable than what is called sure: cells held anyway, or a window between two
    /// ends, keep it from that.
    /// </summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static bool IsUnsureCut(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        return IsUnsureCut(recommendation.Goal, recommendation.Confidence);
    }

    /// <summary>
    /// True where an unsure cut is not even likely by best estimate (the scale of the Intergovernmental Panel on Climate Change,
    /// as on the page): it may well be held.
    /// </summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static bool IsDoubtfulCut(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        return IsDoubtfulCut(recommendation.Goal, recommendation.Confidence, recommendation.Interval);
    }

    /// <summary>
    /// Probability that a recommended setting reaches its goal by best estimate, 0 to 1, where what is stated of it
    /// (<see cref="Recommendation.Confidence"/>) is only what can be counted on; null where that is the best estimate itself.
    /// </summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static double? BestEstimateOf(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        return BestEstimateOf(recommendation.Goal, recommendation.Confidence, recommendation.Interval);
    }

    /// <summary>The same of any setting for a goal: an untested one, or one that the archive lists.</summary>
    /// <param name="goal">One of <see cref="Goal"/>.</param>
    /// <param name="stated">What is stated of it, 0 to 1; null where nothing is.</param>
    /// <param name="interval">95 % interval of the figure the goal is judged by; null where there is none.</param>
    public static double? BestEstimateOf(string goal, double? stated, Interval? interval) =>
        IsUnsureCut(goal, stated) && interval is not null && interval.Value > stated ? interval.Value : null;

    internal static bool IsDoubtfulCut(string goal, double? stated, Interval? interval) =>
        IsUnsureCut(goal, stated) && (BestEstimateOf(goal, stated, interval) ?? stated) < LeastLikely;

    internal static bool IsUnsureCut(string goal, double? stated) => goal is Goal.SureCut or Goal.CleanCut && stated < LeastSureCut;

    private const double LeastLikely = 0.66;

    /// <summary>A cut less probable than this is not called sure, whatever was asked for.</summary>
    public const double LeastSureCut = 0.95;

    /// <summary>Settings for named goals; a goal that cannot be met is missing here and explained in <see cref="Advice"/>.</summary>
    public ValueList<Recommendation> Recommendations { get; init => field = value ?? []; } = [];

    /// <summary>What else a maker should know of this card: goals without a setting, and where to go next.</summary>
    public ValueList<Advice> Advice { get; init => field = value ?? []; } = [];

    /// <summary>
    /// The least power that reaches a full mark at each speed; of a cut card, that at which half of the sides are through.
    /// Absent where the model does not carry it.
    /// </summary>
    public ValueList<BoundaryPoint>? Boundary { get; init; }

    /// <summary>Settings of evenly spaced tones for pictures; absent where none were asked for, or none can be given.</summary>
    public ToneScale? Tones { get; init; }

    /// <summary>The fitted model; absent where none fits.</summary>
    public FittedModel? Model { get; init; }

    /// <summary>Earlier cards whose cells were scored together with this one's; absent where it was scored alone.</summary>
    public ValueList<JoinedCard>? Joined { get; init; }
}

/// <summary>An earlier card that was scored together with the reading's own: same material, thickness, batch, machine and focus.</summary>
public sealed record JoinedCard : Extensible
{
    /// <summary>Its number.</summary>
    public required int Number { get; init; }

    /// <summary>SHA-256 of its plan's file, lower-case hexadecimal.</summary>
    public string? PlanSha256 { get; init; }

    /// <summary>Cells of it that were used.</summary>
    public required int CellsUsed { get; init; }

    /// <summary>When its last photo was taken, by the camera's own clock; absent where no photo says.</summary>
    public DateTime? Taken { get; init; }

    /// <summary>When it was first read, UTC; absent where it did not come from the archive.</summary>
    public DateTime? FirstReadUtc { get; init; }

    /// <summary>
    /// Energy that it seems to have got, over that of the reading's own card at the same settings; absent where that was
    /// not estimated.
    /// </summary>
    public Measured? DoseFactor { get; init; }

    /// <summary>
    /// Strength of its marks over that of the reading's own card at the same settings; absent on cut cards, or where it was
    /// not estimated.
    /// </summary>
    public Measured? MarkFactor { get; init; }

    /// <summary>An earlier card by its reading.</summary>
    /// <param name="reading">Its reading.</param>
    /// <param name="cellsUsed">Cells of it that were used.</param>
    /// <exception cref="ArgumentNullException">There is no reading.</exception>
    public static JoinedCard Of(Reading reading, int cellsUsed)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return new() { Number = reading.Plan.Number, PlanSha256 = reading.PlanSha256, CellsUsed = cellsUsed };
    }

    /// <summary>"card 17 (36 cells, 2 Nov 2026)", for a message: the day is the photo's, else that of its first reading.</summary>
    public Phrase ToFigure() => (Taken ?? FirstReadUtc) is { } day
        ? new("reading.joined-card", ("card", Number), ("cells", CellsUsed),
            ("day", new Phrase("reading.day", ("day", day.Day), ("month", day.Month), ("year", day.Year))))
        : new("reading.joined-card", ("card", Number), ("cells", CellsUsed));

    /// <summary>"card 17 (36 cells, 2 Nov 2026) and card 19 (25 cells, 9 Nov 2026)", for a message.</summary>
    /// <param name="cards">The cards, one or more.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static Figure ToFigure(ValueList<JoinedCard> cards)
    {
        ArgumentNullException.ThrowIfNull(cards);
        Figure[] each = [.. cards.Select(card => card.ToFigure())];
        return each.Length < 2
            ? Figures.List(each)
            : new Phrase("reading.joined-cards", ("cards", Figures.List(each[..^1])), ("last", each[^1]));
    }
}
