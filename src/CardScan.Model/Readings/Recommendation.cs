using System.Text.Json.Serialization;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>Codes of the goals; defined in docs/method/goals.md.</summary>
public static class Goal
{
    /// <summary>The highest speed, then the lowest power, among settings that give a full mark.</summary>
    public const string FastestFullMark = "fastest-full-mark";

    /// <summary>The strongest mark whose halo stays within the limit.</summary>
    public const string Darkest = "darkest";

    /// <summary>The highest speed, then the lowest power, among settings that are through with the stated probability.</summary>
    public const string SureCut = "sure-cut";

    /// <summary>The least char among the sure cuts.</summary>
    public const string CleanCut = "clean-cut";
}

/// <summary>A setting for one goal, with its reason and its uncertainty.</summary>
public sealed record Recommendation : Extensible
{
    /// <summary>One of <see cref="Model.Goal"/>.</summary>
    public required string Goal { get; init; }

    /// <summary>Percent of full power.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmPerMin { get; init; }

    /// <summary>How often the path is run; absent in readings that were scored by earlier versions, whose cell tells it.</summary>
    public int? Passes { get; init; }

    /// <summary>The burned cell that is the setting or best backs it; null where none does.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.Never)]
    public CellAddress? Cell { get; init; }

    /// <summary>
    /// Number of the earlier card that <see cref="Cell"/> stands on (<see cref="Reading.Joined"/>); absent where it is the
    /// reading's own.
    /// </summary>
    public int? Card { get; init; }

    /// <summary>
    /// What was measured of that cell, its settings with it; absent where it is the reading's own, which has it among its
    /// cells.
    /// </summary>
    public CellReading? EarlierCell { get; init; }

    /// <summary>The cell where it is the reading's own; null where there is none, or where it stands on an earlier card.</summary>
    [JsonIgnore]
    public CellAddress? OwnCell => Card is null ? Cell : null;

    /// <summary>Why, in words a maker reads: the <see cref="Reasons"/> one after the other; of a file without them, its text.</summary>
    [JsonRequired]
    public string Reason { get => Reasons.Count > 0 ? Model.Reason.Text(Reasons) : field; init; } = "";

    /// <summary>Why, sentence by sentence.</summary>
    public ValueList<Reason> Reasons { get; init => field = value ?? []; } = [];

    /// <summary>True where another recommendation names the same setting of the same cell.</summary>
    /// <param name="other">The other.</param>
    public bool HasSettingOf(Recommendation other) => other is not null && (Card, Cell, PowerPercent, SpeedMmPerMin)
        == (other.Card, other.Cell, other.PowerPercent, other.SpeedMmPerMin);

    /// <summary>Why, without what others have said of the same setting already.</summary>
    /// <param name="said">The recommendations before it.</param>
    public string ReasonBeside(IEnumerable<Recommendation> said)
    {
        HashSet<string> known = [.. said.Where(HasSettingOf).SelectMany(other => other.Reasons).Select(reason => reason.Message)];
        return Reasons.Count == 0 ? Reason : Model.Reason.Text(Reasons.Where(reason => !known.Contains(reason.Message)));
    }

    /// <summary>
    /// Probability that the setting reaches the goal, under the fitted model, 0 to 1: the best estimate, and of a cut that is not
    /// sure what can be counted on, the lower limit of <see cref="Interval"/>.
    /// </summary>
    public double? Confidence { get; init; }

    /// <summary>95 % interval of the figure the goal is judged by.</summary>
    public Interval? Interval { get; init; }

    /// <summary>A setting between burned cells that the model expects to do better; absent where it would gain little.</summary>
    public UnburnedSetting? Unburned { get; init; }
}

/// <summary>A setting inside the card's range that was not burned, and that the fitted model expects to reach a goal.</summary>
/// <remarks>
/// It never takes a burned cell's place: it is to be burned before anybody relies on it. Passes, line interval and focus
/// are those of the recommendation's cell.
/// </remarks>
public sealed record UnburnedSetting : Extensible
{
    /// <summary>Percent of full power.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmPerMin { get; init; }

    /// <summary>As <see cref="Recommendation.Confidence"/>.</summary>
    public required double Confidence { get; init; }

    /// <summary>What it gains over the burned setting, in words a maker reads; says that it was not burned yet.</summary>
    [JsonRequired]
    public string Reason { get => Reasons.Count > 0 ? Model.Reason.Text(Reasons) : field; init; } = "";

    /// <summary>The same sentence by sentence.</summary>
    public ValueList<Reason> Reasons { get; init => field = value ?? []; } = [];

    /// <summary>95 % interval of the figure the goal is judged by.</summary>
    public Interval? Interval { get; init; }
}

/// <summary>Something a maker should know of the card.</summary>
public sealed record Advice : Remark
{
    /// <param name="code">Listed in docs/messages.md.</param>
    /// <param name="values">The figures of its sentence.</param>
    public Advice(string code, params IEnumerable<(string Name, Figure Value)> values) : base(code, values) { }

    /// <summary>Advice of a file.</summary>
    [JsonConstructor]
    public Advice(string code, string message, ValueMap<Figure>? values = null) : base(code, message, values) { }

    /// <summary>The goal it is about; absent where it is about the card.</summary>
    public string? Goal { get; init; }

    /// <summary>True for what speaks against burning the material: it belongs beside every setting for it.</summary>
    [JsonIgnore]
    public bool IsAgainstBurning => CodeMeanings.BearingOf(Code) is AdviceBearing.Danger or AdviceBearing.Caution;
}

/// <summary>One of the sentences that say why.</summary>
public sealed record Reason : Remark
{
    /// <param name="code">Listed in docs/messages.md.</param>
    /// <param name="values">The figures of its sentence.</param>
    public Reason(string code, params IEnumerable<(string Name, Figure Value)> values) : base(code, values) { }

    /// <summary>A reason of a file.</summary>
    [JsonConstructor]
    public Reason(string code, string message, ValueMap<Figure>? values = null) : base(code, message, values) { }

    /// <summary>Sentence after sentence.</summary>
    public static string Text(IEnumerable<Reason> reasons) => string.Join(" ", reasons.Select(reason => reason.Message));
}

/// <summary>The least power that reaches a full mark at one speed; of a cut card, that at which half of the sides are through.</summary>
/// <param name="Goal">One of <see cref="Model.Goal"/>.</param>
/// <param name="SpeedMmPerMin">Speed, mm/min.</param>
/// <param name="PowerPercent">Least power, percent.</param>
/// <param name="Low">Lower limit of its 95 % interval, percent.</param>
/// <param name="High">Upper limit of its 95 % interval, percent.</param>
public sealed record BoundaryPoint(string Goal, double SpeedMmPerMin, double PowerPercent, double Low, double High) : Extensible;
