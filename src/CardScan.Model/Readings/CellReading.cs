using System.Text.Json.Serialization;

namespace CardScan.Model;

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

    /// <summary>
    /// What is doubtful about this cell; codes in docs/messages.md. One whose flag is disqualifying
    /// (<see cref="CellFlag.IsDisqualifying"/>) is left out of the scoring.
    /// </summary>
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

    /// <summary>Something lies over the cell that was not burned into it.</summary>
    public const string Covered = "covered";

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
    public static bool IsDisqualifying(string flag) => flag is Covered or Glare or Clipped or OutOfFrame;
}

/// <summary>A cell named by its place in the grid.</summary>
/// <param name="Row">Row, from 0 at the top.</param>
/// <param name="Column">Column, from 0 at the left.</param>
public sealed record CellAddress(int Row, int Column) : Extensible;
