using System.Text.Json.Serialization;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>What the beam does to a cell.</summary>
public enum Process
{
    /// <summary>Cells are filled, line beside line.</summary>
    Engrave,

    /// <summary>Cells are outlined; a cell's rectangle is the centre line of the cutting path.</summary>
    Cut,
}

/// <summary>What stands in the cells of a card.</summary>
public enum CardKind
{
    /// <summary>Filled or outlined rectangles.</summary>
    Grid,

    /// <summary>Single lines in both directions at stepped focus offsets; their width tells where the focus is.</summary>
    FocusLadder,

    /// <summary>Printed greys on paper, laid beside a card to tell a photo's tones; nothing is burned.</summary>
    GreyStrip,
}

/// <summary>A setting that can be an axis of the grid.</summary>
public enum Setting
{
    /// <summary>Percent of full power.</summary>
    PowerPercent,

    /// <summary>Speed along the path, mm/min.</summary>
    SpeedMmPerMin,

    /// <summary>How often the path is run; a whole number.</summary>
    Passes,

    /// <summary>Focus above (positive) or below (negative) the surface, mm.</summary>
    FocusOffsetMm,

    /// <summary>Distance of neighbouring lines of a fill, mm.</summary>
    LineIntervalMm,

    /// <summary>Density that a printer is asked for, of a grey strip; what it prints is another matter.</summary>
    PrintedDensity,
}

/// <summary>What is to be burned: the geometry of the card and the settings of every cell (<c>plan.json</c>).</summary>
/// <remarks>
/// Millimetres in the card frame: origin at the card's top left corner on the burned face, x right, y down.
/// A plan that came through <see cref="CardJson.ReadPlan"/> obeys <see cref="PlanRules"/>.
/// </remarks>
public sealed record Plan : Extensible
{
    /// <summary>The format this version writes.</summary>
    public const string CurrentFormat = "cardscan-plan/1";

    /// <summary>How many numbers there are for cards: 0 to one less.</summary>
    public const int Numbers = 250;

    /// <summary>Format name and version.</summary>
    public required string Format { get; init; }

    /// <summary>The card's number, 0 to 249; it gives the markers' ids.</summary>
    public required int Number { get; init; }

    /// <summary>The maker's words for this card.</summary>
    public string Title { get; init => field = value ?? ""; } = "";

    /// <summary>Engrave or cut.</summary>
    public required Process Process { get; init; }

    /// <summary>What stands in the cells; a grid where absent.</summary>
    public CardKind? Kind { get; init; }

    /// <summary>What it is burned into.</summary>
    public required Material Material { get; init; }

    /// <summary>What burns it.</summary>
    public required Machine Machine { get; init; }

    /// <summary>Size of the card.</summary>
    public required CardSize Card { get; init; }

    /// <summary>The corner markers.</summary>
    public required Fiducials Fiducials { get; init; }

    /// <summary>
    /// The printed sheet that carries the markers, where they are not burned; <see cref="Card"/> is the size of that sheet
    /// then, and the cells stand where they are when the piece lies as drawn.
    /// </summary>
    public FrameSheet? Frame { get; init; }

    /// <summary>The setting that changes from column to column.</summary>
    public required Axis Columns { get; init; }

    /// <summary>The setting that changes from row to row.</summary>
    public required Axis Rows { get; init; }

    /// <summary>The settings that are the same in every cell.</summary>
    public FixedSettings Fixed { get; init => field = value ?? new(); } = new();

    /// <summary>The cells, each with its place in the grid and on the card.</summary>
    public required ValueList<Cell> Cells { get; init; }

    /// <summary>How the card is burned besides its cells' settings; absent in plans that were laid out elsewhere.</summary>
    public Burning? Burning { get; init; }

    /// <summary>The energy that power and speed were chosen around; absent where they were asked for.</summary>
    public StartingEnergy? Start { get; init; }

    /// <summary>The danger of the material that was accepted in words; absent where there was none to accept.</summary>
    public string? AcceptedRisk { get; init; }

    /// <summary>True for a grey strip: it is printed, so it has no settings of a laser, and no dose.</summary>
    [JsonIgnore]
    public bool IsPrinted => Kind == CardKind.GreyStrip;

    /// <summary>
    /// Energy delivered at some settings: areal energy for fills, line energy for cuts and for the single lines of a focus
    /// ladder.
    /// </summary>
    /// <returns>The dose, or null where a fill has no line interval, or nothing is burned.</returns>
    public Dose? DoseOf(CellSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return IsPrinted ? null : settings.DoseOf(Kind == CardKind.FocusLadder ? Process.Cut : Process, Machine.RatedOpticalWatts);
    }

    /// <summary>The settings one cell was burned with: its column's, its row's, and the fixed ones.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The cell's row or column is outside the axes.</exception>
    public CellSettings SettingsOf(Cell cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(cell.Row, Rows.Values.Count);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(cell.Column, Columns.Values.Count);
        return new()
        {
            PowerPercent = Of(Setting.PowerPercent, Fixed.PowerPercent) ?? 0,
            SpeedMmPerMin = Of(Setting.SpeedMmPerMin, Fixed.SpeedMmPerMin) ?? 0,
            Passes = (int)(Of(Setting.Passes, Fixed.Passes) ?? 1),
            FocusOffsetMm = Of(Setting.FocusOffsetMm, Fixed.FocusOffsetMm) ?? 0,
            LineIntervalMm = Of(Setting.LineIntervalMm, Fixed.LineIntervalMm),
        };

        double? Of(Setting setting, double? otherwise) =>
            Columns.Setting == setting ? Columns.Values[cell.Column]
            : Rows.Setting == setting ? Rows.Values[cell.Row]
            : otherwise;
    }

    /// <summary>What goes with power and speed in every cell, as a sentence; what is an axis stands on the card itself.</summary>
    public Phrase EveryCell()
    {
        double focus = Fixed.FocusOffsetMm ?? 0;
        return new("name.every-cell", Figures.Known(
            ("passes", IsAxis(Setting.Passes) ? null : Fixed.Passes ?? 1),
            ("interval", Fixed.LineIntervalMm is { } interval ? Figures.Mm(interval) : null),
            ("side", IsAxis(Setting.FocusOffsetMm) ? "axis" : focus switch { 0 => "on", < 0 => "below", _ => "above" }),
            ("offset", Figures.Mm(Math.Abs(focus))),
            ("step", Fixed.FocusStepMm is > 0 and { } step ? Figures.Mm(step) : null),
            ("pass-pause", Fixed.PassPauseS is > 0 and { } passPause ? Figures.Seconds(passPause) : null),
            ("cell-pause", Burning?.CellPauseS is > 0 and { } cellPause ? Figures.Seconds(cellPause) : null),
            ("air", Fixed.AirAssist?.ToFigure()),
            ("tabs", Cells.Count > 0 && Cells[0].Tabs is { Count: > 0 } tabs ? tabs.Count : null),
            ("tab", Cells.Count > 0 && Cells[0].Tabs is { Count: > 0 } same ? Figures.Mm(same[0].LengthMm) : null)));

        bool IsAxis(Setting setting) => Columns.Setting == setting || Rows.Setting == setting;
    }
}

/// <summary>A plan as it came from a file, with the fingerprint of that file.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Sha256">SHA-256 of the file's bytes, lower-case hexadecimal.</param>
public sealed record PlanFile(Plan Plan, string Sha256);
