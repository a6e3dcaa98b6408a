using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What was found of a cell, in words.</summary>
internal static class CellWords
{
    /// <summary>What is doubtful about a cell, in a sentence; empty where nothing is.</summary>
    public static string Remarks(CellReading cell)
    {
        List<string> words = [.. cell.Flags.Select(Flag)];
        if (IsLeftOut(cell)) words.Add("left out of the scoring");
        return words.Count == 0 ? "" : Sentence.Stopped(Sentence.Capital(string.Join("; ", words)));
    }

    /// <summary>A flag, explained.</summary>
    public static string Flag(string flag) => flag switch
    {
        CellFlag.Glare => "glare over the cell or beside it",
        CellFlag.Clipped => "too bright for the photo's scale, over the cell or beside it",
        CellFlag.OutOfFrame => "not wholly inside the photo",
        CellFlag.UnevenGround => "the bare material around it is uneven (shadow, knot or dirt)",
        CellFlag.Outlier => "does not fit the other cells, and was given little weight",
        CellFlag.DroppedOut => "the piece fell out",
        CellFlag.LinesUnresolved => "lines too narrow for the photo",
        CellFlag.LinesUnseen => "lines that cannot be told from bare material",
        CellFlag.TabBurned => "a tab burned away, and the piece may drop",
        _ => Sentence.FromCode(flag),
    };

    /// <summary>The wider of the two mean line widths of a focus ladder's cell, mm; null unless both were measured.</summary>
    public static double? LineWidthMm(CellReading cell) => cell.LineWidths is { AcrossXMm: { } x, AcrossYMm: { } y } ? Math.Max(x.Value, y.Value) : null;

    /// <summary>True when the scoring did not use the cell.</summary>
    public static bool IsLeftOut(CellReading cell) => cell.Flags.Any(CellFlag.IsDisqualifying);

    /// <summary>One of the three states a side is drawn in.</summary>
    public static SideLook Look(SideState state) => state switch
    {
        SideState.Open => SideLook.Through,
        SideState.Unseen => SideLook.Unseen,
        _ => SideLook.Held,
    };

    /// <summary>The whole cell's state, in words.</summary>
    public static string Through(Opening? opening) => opening switch
    {
        Opening.Through => "through",
        Opening.Partial => "partly through",
        Opening.Closed => "held",
        Opening.Unseen => "unseen",
        _ => Numbers.NotMeasured,
    };

    /// <summary>One side: state, open share, kerf, bridge.</summary>
    public static string Side(SideReading side)
    {
        List<string> words =
        [
            side.State switch
            {
                SideState.Open => "through",
                SideState.Partial => side.OpenFraction is double open ? $"held, {Numbers.Percent(open)} open" : "held, partly open",
                SideState.Closed => "held",
                _ => "unseen",
            },
        ];
        if (side.KerfMm is double kerf) words.Add($"kerf {Numbers.Fixed(kerf, 2)}\u00a0mm");
        if (side.State == SideState.Partial && side.LongestBridgeMm is double bridge and > 0) words.Add($"bridge {Numbers.Fixed(bridge, 1)}\u00a0mm");
        if (side.State != SideState.Unseen && side.SeenFraction is double seen and < 0.9) words.Add($"only {Numbers.Percent(seen)} of it seen");
        return string.Join(", ", words);
    }

    /// <summary>The sides with their names, in the order they have everywhere: left, right, top, bottom.</summary>
    public static (string Name, SideReading Side)[] Each(Sides sides) =>
        [("left", sides.Left), ("right", sides.Right), ("top", sides.Top), ("bottom", sides.Bottom)];

    /// <summary>Mean open share of the sides that could be judged, weighted by how much was seen; null where none could.</summary>
    public static double? OpenShare(CellReading cell)
    {
        if (cell.Sides is null) return null;
        double open = 0, seen = 0;
        foreach ((_, SideReading side) in Each(cell.Sides))
        {
            if (side.State == SideState.Unseen || side.OpenFraction is not double share) continue;
            double weight = side.SeenFraction ?? 1;
            open += weight * share;
            seen += weight;
        }

        return seen > 0 ? open / seen : null;
    }

    /// <summary>The dose with its unit.</summary>
    public static string Dose(Dose? dose) => dose is null ? Numbers.NotMeasured : $"{Numbers.Significant(dose.Value, 3)}\u00a0{DoseUnit(dose.Unit)}";

    /// <summary>The unit of a dose as printed.</summary>
    public static string DoseUnit(string unit) => unit == Model.Dose.JoulesPerMm2 ? "J/mm²" : unit;
}

/// <summary>The three ways a side is drawn, each by shape and by colour.</summary>
internal enum SideLook
{
    /// <summary>Open along its whole length: a plain bar.</summary>
    Through,

    /// <summary>Held somewhere or everywhere: a line with cross stitches.</summary>
    Held,

    /// <summary>Could not be judged: dots.</summary>
    Unseen,
}
