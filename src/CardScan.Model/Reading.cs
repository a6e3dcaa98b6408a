using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

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
        return IsUnsureCut(recommendation) && Advice.Any(advice => advice.Code == BridgedSides);
    }

    /// <summary>What was measured of the cell that a recommendation names, on whichever card it stands; null where it names none, or one that is not here.</summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public CellReading? CellOf(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        if (recommendation.Card is not null) return recommendation.EarlierCell;
        return recommendation.Cell is { } at ? Cells.FirstOrDefault(cell => cell.Row == at.Row && cell.Column == at.Column) : null;
    }

    /// <summary>True where a recommended cut is less probable than what is called sure: cells held anyway, or a window between two ends, keep it from that.</summary>
    /// <param name="recommendation">One of <see cref="Recommendations"/>.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static bool IsUnsureCut(Recommendation recommendation)
    {
        ArgumentNullException.ThrowIfNull(recommendation);
        return recommendation is { Goal: Goal.SureCut or Goal.CleanCut, Confidence: < UsualCutConfidence };
    }

    /// <summary>Codes of the advice that tells why a cut is not sure, bridges first.</summary>
    internal static readonly string[] WhyUnsure = [BridgedSides, "held-anyway", "closes-again"];

    /// <summary>Code of the advice that tells of bridges.</summary>
    internal const string BridgedSides = "bridged-sides";

    /// <summary>A cut less probable than this is not called sure.</summary>
    private const double UsualCutConfidence = 0.95;

    /// <summary>Settings for named goals; a goal that cannot be met is missing here and explained in <see cref="Advice"/>.</summary>
    public ValueList<Recommendation> Recommendations { get; init => field = value ?? []; } = [];

    /// <summary>What else a maker should know of this card: goals without a setting, and where to go next.</summary>
    public ValueList<Advice> Advice { get; init => field = value ?? []; } = [];

    /// <summary>The least power that reaches a full mark at each speed; of a cut card, that at which half of the sides are through. Absent where the model does not carry it.</summary>
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

    /// <summary>Energy that it seems to have got, over that of the reading's own card at the same settings; absent where that was not estimated.</summary>
    public Measured? DoseFactor { get; init; }

    /// <summary>Strength of its marks over that of the reading's own card at the same settings; absent on cut cards, or where it was not estimated.</summary>
    public Measured? MarkFactor { get; init; }

    /// <summary>"card 17 (36 cells, 2 Nov 2026)": the day is the photo's, else that of its first reading.</summary>
    public string InWords()
    {
        string cells = CellsUsed == 1 ? "1 cell" : $"{CellsUsed} cells";
        return (Taken ?? FirstReadUtc) is { } day ? string.Create(CultureInfo.InvariantCulture, $"card {Number} ({cells}, {day:d MMM yyyy})") : $"card {Number} ({cells})";
    }

    /// <summary>"card 17 (36 cells, 2 Nov 2026) and card 19 (25 cells, 9 Nov 2026)".</summary>
    /// <param name="cards">The cards, one or more.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static string InWords(ValueList<JoinedCard> cards)
    {
        ArgumentNullException.ThrowIfNull(cards);
        string[] each = [.. cards.Select(card => card.InWords())];
        return each.Length < 2 ? string.Concat(each) : $"{string.Join(", ", each[..^1])} and {each[^1]}";
    }
}

/// <summary>Where the light of a photo came from.</summary>
public enum Light
{
    /// <summary>An ordinary photo.</summary>
    Front,

    /// <summary>A lamp or light pad behind the card.</summary>
    Back,
}

/// <summary>What is known of one photo.</summary>
public sealed record PhotoRecord : Extensible
{
    /// <summary>File name, without folders.</summary>
    public required string File { get; init; }

    /// <summary>SHA-256 of the file's bytes, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

    /// <summary>When it was taken, by the camera's own clock, of no stated time zone; absent where the file does not say.</summary>
    public DateTime? Taken { get; init; }

    /// <summary>Front-lit or back-lit.</summary>
    public required Light Light { get; init; }

    /// <summary>Width of the upright picture, px.</summary>
    public required int WidthPx { get; init; }

    /// <summary>Height of the upright picture, px.</summary>
    public required int HeightPx { get; init; }

    /// <summary>Scale at the card's centre: geometric mean over x and y, px/mm.</summary>
    public double? PxPerMm { get; init; }

    /// <summary>Angle between the optical axis and the card's normal, degrees.</summary>
    public double? TiltDeg { get; init; }

    /// <summary>RMS distance of the markers' corners from the fitted pose, px.</summary>
    public double? ReprojectionRmsPx { get; init; }

    /// <summary>How far the card is bowed; absent where the photo does not tell: cells without clear edges, no focal length, a cut card, a focus ladder or a frame sheet.</summary>
    public CardBow? Bow { get; init; }

    /// <summary>How good the photo is; thresholds and methods in docs/method/photo-check.md.</summary>
    public PhotoQuality? Quality { get; init; }

    /// <summary>What the frame sheet around the piece told; absent where the card carries its own markers.</summary>
    public FrameReading? Frame { get; init; }

    /// <summary>What is doubtful about this photo.</summary>
    public ValueList<Warning> Warnings { get; init => field = value ?? []; } = [];
}

/// <summary>How far a card is bowed, by the places of its cells against those of its markers: docs/method/vision.md, "Bow".</summary>
/// <remarks>Seen right from above, a bow moves little, and its standard error is large: then the figures say that nothing is known.</remarks>
public sealed record CardBow : Extensible
{
    /// <summary>How far the card's middle stands over the line between its left and right edges, towards the camera, mm; negative is away from it.</summary>
    public required Measured RiseXMm { get; init; }

    /// <summary>How far it stands over the line between its upper and lower edges, mm.</summary>
    public required Measured RiseYMm { get; init; }

    /// <summary>True where the bow is certain and cells were looked for where it puts them; false where they were looked for on a flat card.</summary>
    public required bool IsCorrected { get; init; }
}

/// <summary>Figures of a photo's quality; what needs front light is absent for a back-lit one.</summary>
public sealed record PhotoQuality : Extensible
{
    /// <summary>
    /// Standard error, relative, that the darkness of all cells of a photo shares: phones bend tones, and one photo of a
    /// card cannot tell by how much. It stretches or shrinks all darkness alike, so it hardly moves ranks; it does not
    /// shrink with the number of cells. See docs/method/photo-check.md.
    /// </summary>
    public const double UsualDarknessScaleError = 0.15;

    /// <summary>Sharpness across the card's x: spatial frequency at which half of the contrast is left, cycles/mm.</summary>
    public double? Mtf50AcrossXPerMm { get; init; }

    /// <summary>The same across the card's y, cycles/mm.</summary>
    public double? Mtf50AcrossYPerMm { get; init; }

    /// <summary>Luminance of bare material in the card's middle, linear, 1 at the top of the photo's scale.</summary>
    public double? BareLuminance { get; init; }

    /// <summary>Share of the bare material at the top of the photo's scale, 0 to 1.</summary>
    public double? ClippedShare { get; init; }

    /// <summary>Standard deviation from pixel to pixel on bare material, relative to its luminance; fine grain included.</summary>
    public double? Noise { get; init; }

    /// <summary>Brightest over darkest light on the bare card, by the smooth light field; 1 is even.</summary>
    public double? LightRange { get; init; }

    /// <summary>Share of the strips between the cells that are brighter than the smooth light field explains, 0 to 1.</summary>
    public double? GlareShare { get; init; }

    /// <summary>Share of those strips that are darker than it explains, 0 to 1.</summary>
    public double? ShadowShare { get; init; }

    /// <summary>How far the bare material beside a cell is lifted for each unit of that cell's darkness; far from 0 where the phone tones places apart.</summary>
    public Measured? LocalTone { get; init; }

    /// <summary>Relative standard error that the darkness of all cells of this photo shares.</summary>
    public double? DarknessScaleError { get; init; }
}

/// <summary>Something doubtful, kept with the reading.</summary>
/// <param name="Code">Stable, machine-readable, kebab-case; listed in docs/messages.md.</param>
/// <param name="Message">What was seen and what to do, for a maker.</param>
public sealed record Warning(string Code, string Message) : Extensible;

/// <summary>A measured value with its standard error, both in the unit of the field that holds it.</summary>
/// <param name="Value">The value.</param>
/// <param name="StandardError">One standard error, zero or greater.</param>
public sealed record Measured(double Value, double StandardError) : Extensible
{
    /// <summary>The value rounded to a hundredth of its standard error: further digits say nothing.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite, or the error is negative.</exception>
    public static Measured Of(double value, double standardError)
    {
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), value, "A measured value is finite.");
        if (!(standardError >= 0) || !double.IsFinite(standardError))
            throw new ArgumentOutOfRangeException(nameof(standardError), standardError, "A standard error is finite and not negative.");
        if (standardError == 0) return new(value, 0);

        int digits = Math.Clamp(2 - (int)Math.Floor(Math.Log10(standardError)), 0, 15);
        return new(Math.Round(value, digits), Math.Round(standardError, digits));
    }
}

/// <summary>A point of the picture, px: [x, y], the centre of the top left pixel at (0, 0).</summary>
/// <param name="X">Right, px.</param>
/// <param name="Y">Down, px.</param>
[JsonConverter(typeof(PixelPointConverter))]
public sealed record PixelPoint(double X, double Y);

/// <summary>What was measured of one cell.</summary>
public sealed record CellReading : Extensible
{
    /// <summary>Row of the grid, from 0 at the top.</summary>
    public required int Row { get; init; }

    /// <summary>Column of the grid, from 0 at the left.</summary>
    public required int Column { get; init; }

    /// <summary>The cell's centre in the first photo that shows it, px.</summary>
    public PixelPoint? CenterPx { get; init; }

    /// <summary>What the cell was burned with.</summary>
    public required CellSettings Settings { get; init; }

    /// <summary>Energy delivered.</summary>
    public Dose? Dose { get; init; }

    /// <summary>Reflection density against the bare material beside the cell, −log10(Y_cell / Y_bare); positive is darker.</summary>
    public Measured? Darkness { get; init; }

    /// <summary>CIE L* of the cell as photographed, against the photo's own white, 0 to 100.</summary>
    public Measured? Lightness { get; init; }

    /// <summary>Weber contrast (Y_cell − Y_bare) / Y_bare; negative is darker.</summary>
    public Measured? Contrast { get; init; }

    /// <summary>CIEDE2000 colour difference between cell and bare material, as photographed.</summary>
    public Measured? DeltaE2000 { get; init; }

    /// <summary>1 − relative standard deviation of the luminance over the cell's blocks: 1 is perfectly even.</summary>
    public Measured? Evenness { get; init; }

    /// <summary>How far the darkening spreads past the cell's edge, mm.</summary>
    public Measured? HaloMm { get; init; }

    /// <summary>Widths of the lines of a focus ladder's cell.</summary>
    public LineWidths? LineWidths { get; init; }

    /// <summary>The sides of a cut cell.</summary>
    public Sides? Sides { get; init; }

    /// <summary>Whether a cut cell is through.</summary>
    public Opening? Through { get; init; }

    /// <summary>What is doubtful about this cell; codes in docs/messages.md. A cell flagged <see cref="CellFlag.Glare"/>,
    /// <see cref="CellFlag.Clipped"/> or <see cref="CellFlag.OutOfFrame"/> is left out of the scoring.</summary>
    public ValueList<string> Flags { get; init => field = value ?? []; } = [];

    /// <summary>Mark strength |1 − Y_cell / Y_bare|, the engraved cell's measure of merit; lighter marks count alike.</summary>
    [JsonIgnore]
    public Measured? MarkStrength =>
        Darkness is null ? null
        // d(10^-D) = ln 10 · 10^-D · dD
        : new(Math.Abs(1 - Math.Pow(10, -Darkness.Value)), Math.Log(10) * Math.Pow(10, -Darkness.Value) * Darkness.StandardError);
}

/// <summary>Codes of what can be doubtful about a cell.</summary>
public static class CellFlag
{
    /// <summary>A mirror-like reflection lies over the cell or the bare material beside it.</summary>
    public const string Glare = "glare";

    /// <summary>The photo is at the top of its scale over the cell or beside it.</summary>
    public const string Clipped = "clipped";

    /// <summary>The cell is not wholly inside the photo.</summary>
    public const string OutOfFrame = "out-of-frame";

    /// <summary>The bare material around the cell disagrees with itself: a shadow's edge, a knot, or dirt.</summary>
    public const string UnevenGround = "uneven-ground";

    /// <summary>The cell does not fit the others; the scoring gave it little weight.</summary>
    public const string Outlier = "outlier";

    /// <summary>The piece inside a cut cell has fallen out.</summary>
    public const string DroppedOut = "dropped-out";

    /// <summary>A tab of a cut cell burned away: the piece may drop.</summary>
    public const string TabBurned = "tab-burned";

    /// <summary>Lines of a focus ladder's cell are too narrow, against the photo's blur, for their width to be told.</summary>
    public const string LinesUnresolved = "lines-unresolved";

    /// <summary>Lines of a focus ladder's cell cannot be told from bare material: too little energy marked nothing.</summary>
    public const string LinesUnseen = "lines-unseen";

    /// <summary>True for flags that make a cell's values unusable.</summary>
    public static bool IsDisqualifying(string flag) => flag is Glare or Clipped or OutOfFrame;
}

/// <summary>State of a side or of a whole cut cell.</summary>
public enum SideState
{
    /// <summary>Through: at least 98 % of its length is open.</summary>
    Open,

    /// <summary>Partly open.</summary>
    Partial,

    /// <summary>Nowhere open, where light could have been seen.</summary>
    Closed,

    /// <summary>Could not be judged from where the photo was taken.</summary>
    Unseen,
}

/// <summary>Whether a cut cell is through.</summary>
public enum Opening
{
    /// <summary>All four sides are open.</summary>
    Through,

    /// <summary>Some of it is open.</summary>
    Partial,

    /// <summary>Nothing is open.</summary>
    Closed,

    /// <summary>Could not be judged.</summary>
    Unseen,
}

/// <summary>The four sides of a cut cell.</summary>
/// <param name="Left">Left edge.</param>
/// <param name="Right">Right edge.</param>
/// <param name="Top">Top edge.</param>
/// <param name="Bottom">Bottom edge.</param>
public sealed record Sides(SideReading Left, SideReading Right, SideReading Top, SideReading Bottom) : Extensible;

/// <summary>What was measured of one side of a cut cell.</summary>
public sealed record SideReading : Extensible
{
    /// <summary>Open, partial, closed or unseen.</summary>
    public required SideState State { get; init; }

    /// <summary>Share of the judged length that is open, 0 to 1; absent where unseen. Tabs, left uncut on purpose, count nowhere.</summary>
    public double? OpenFraction { get; init; }

    /// <summary>Share of the side's length that could be judged, 0 to 1.</summary>
    public double? SeenFraction { get; init; }

    /// <summary>Width of the opening, mm.</summary>
    public double? KerfMm { get; init; }

    /// <summary>Longest stretch that still holds, mm; zero where none does.</summary>
    public double? LongestBridgeMm { get; init; }

    /// <summary>Middle of that stretch, mm from the left end of a top or bottom side, from the upper end of a left or right side.</summary>
    public double? LongestBridgeAtMm { get; init; }
}

/// <summary>Mean kerf of a cut card's open sides, by direction: a diode's beam is no circle.</summary>
/// <remarks>Half of it, per axis, is the compensation that a maker enters to get parts of true size.</remarks>
public sealed record CardKerf : Extensible
{
    /// <summary>
    /// Error that all widths of a photo share, mm (one standard error): how far the lamp is beyond the top of the scale is
    /// not seen, and moves every edge of light alike. It does not shrink with the number of sides. See docs/method/sides.md.
    /// </summary>
    public const double CommonErrorMm = 0.03;

    /// <summary>Kerf of lines that run down (left and right sides), measured across x, mm.</summary>
    public Measured? AcrossXMm { get; init; }

    /// <summary>Kerf of lines that run across (top and bottom sides), measured across y, mm.</summary>
    public Measured? AcrossYMm { get; init; }
}

/// <summary>A cell named by its place in the grid.</summary>
/// <param name="Row">Row, from 0 at the top.</param>
/// <param name="Column">Column, from 0 at the left.</param>
public sealed record CellAddress(int Row, int Column) : Extensible;

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

    /// <summary>The burned cell that is the setting or best backs it; null where none does.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.Never)]
    public CellAddress? Cell { get; init; }

    /// <summary>Number of the earlier card that <see cref="Cell"/> stands on (<see cref="Reading.Joined"/>); absent where it is the reading's own.</summary>
    public int? Card { get; init; }

    /// <summary>What was measured of that cell, its settings with it; absent where it is the reading's own, which has it among its cells.</summary>
    public CellReading? EarlierCell { get; init; }

    /// <summary>The cell where it is the reading's own; null where there is none, or where it stands on an earlier card.</summary>
    [JsonIgnore]
    public CellAddress? OwnCell => Card is null ? Cell : null;

    /// <summary>Why, in words a maker reads.</summary>
    public required string Reason { get; init; }

    /// <summary>Probability that the setting reaches the goal, under the fitted model, 0 to 1.</summary>
    public double? Confidence { get; init; }

    /// <summary>95 % interval of the figure the goal is judged by.</summary>
    public Interval? Interval { get; init; }

    /// <summary>A setting between burned cells that the model expects to do better; absent where it would gain little.</summary>
    public UnburnedSetting? Unburned { get; init; }
}

/// <summary>A setting inside the card's range that was not burned, and that the fitted model expects to reach a goal.</summary>
/// <remarks>It never takes a burned cell's place: it is to be burned before anybody relies on it. Passes, line interval and focus are those of the recommendation's cell.</remarks>
public sealed record UnburnedSetting : Extensible
{
    /// <summary>Percent of full power.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmPerMin { get; init; }

    /// <summary>Probability that the setting reaches the goal, under the fitted model, 0 to 1.</summary>
    public required double Confidence { get; init; }

    /// <summary>What it gains over the burned setting, in words a maker reads; says that it was not burned yet.</summary>
    public required string Reason { get; init; }

    /// <summary>95 % interval of the figure the goal is judged by.</summary>
    public Interval? Interval { get; init; }
}

/// <summary>A 95 % interval.</summary>
/// <param name="Quantity">What the interval is of, e.g. <c>markStrength</c>.</param>
/// <param name="Value">Best estimate.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
public sealed record Interval(string Quantity, double Value, double Low, double High) : Extensible;

/// <summary>Something a maker should know of the card.</summary>
/// <param name="Code">Stable, machine-readable, kebab-case; listed in docs/messages.md.</param>
/// <param name="Message">What was found and what to do next.</param>
public sealed record Advice(string Code, string Message) : Extensible
{
    /// <summary>The goal it is about; absent where it is about the card.</summary>
    public string? Goal { get; init; }
}

/// <summary>The least power that reaches a full mark at one speed; of a cut card, that at which half of the sides are through.</summary>
/// <param name="Goal">One of <see cref="Model.Goal"/>.</param>
/// <param name="SpeedMmPerMin">Speed, mm/min.</param>
/// <param name="PowerPercent">Least power, percent.</param>
/// <param name="Low">Lower limit of its 95 % interval, percent.</param>
/// <param name="High">Upper limit of its 95 % interval, percent.</param>
public sealed record BoundaryPoint(string Goal, double SpeedMmPerMin, double PowerPercent, double Low, double High) : Extensible;

/// <summary>The model that was fitted to the card.</summary>
public sealed record FittedModel : Extensible
{
    /// <summary>Name of the model, explained in docs/method.</summary>
    public required string Name { get; init; }

    /// <summary>Parameters with standard errors.</summary>
    public ValueMap<Measured> Parameters { get; init => field = value ?? ValueMap<Measured>.Empty; } = ValueMap<Measured>.Empty;

    /// <summary>Figures that tell how well it fits.</summary>
    public ValueMap<double> Diagnostics { get; init => field = value ?? ValueMap<double>.Empty; } = ValueMap<double>.Empty;

    /// <summary>The fitted curve with its 95 % band, to be drawn; absent where the model is no curve.</summary>
    public FittedCurve? Curve { get; init; }
}

/// <summary>A fitted curve, as points to be drawn.</summary>
/// <param name="Abscissa">What x is, with its unit, for the axis of a chart.</param>
/// <param name="Cells">Where each used cell lies on the curve's abscissa.</param>
/// <param name="Points">The curve, by increasing x.</param>
public sealed record FittedCurve(string Abscissa, ValueList<CurveCell> Cells, ValueList<CurvePoint> Points) : Extensible;

/// <summary>A cell's place on the curve's abscissa.</summary>
/// <param name="Row">Row of the grid.</param>
/// <param name="Column">Column of the grid.</param>
/// <param name="X">Abscissa.</param>
public sealed record CurveCell(int Row, int Column, double X) : Extensible;

/// <summary>A point of a fitted curve.</summary>
/// <param name="X">Abscissa.</param>
/// <param name="Y">Fitted value: mark strength, or L* of tones.</param>
/// <param name="Low">Lower limit of the 95 % band.</param>
/// <param name="High">Upper limit of the 95 % band.</param>
public sealed record CurvePoint(double X, double Y, double Low, double High) : Extensible;

internal sealed class PixelPointConverter : JsonConverter<PixelPoint>
{
    public override PixelPoint Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        ValueList<double> xy = JsonSerializer.Deserialize(ref reader, CardJsonContext.Default.ValueListDouble) ?? [];
        return xy.Count == 2 ? new(xy[0], xy[1]) : throw new JsonException("expected [x, y]");
    }

    public override void Write(Utf8JsonWriter writer, PixelPoint value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(value.X);
        writer.WriteNumberValue(value.Y);
        writer.WriteEndArray();
    }
}
