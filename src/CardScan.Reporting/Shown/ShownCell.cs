using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What was found of a cell, as the page and the picture show it.</summary>
internal static class ShownCell
{
    /// <summary>A side seen less than this says so.</summary>
    private const double LeastSeen = 0.9;

    /// <summary>"r2 c5": its row and column, counted from 1.</summary>
    public static string Name(int row, int column) => Voice.Say("page.cells.name", ("row", row + 1), ("column", column + 1));

    /// <summary>What is doubtful about a cell, sentence by sentence; empty where nothing is.</summary>
    public static string Remarks(CellReading cell) =>
        string.Join(' ', [.. cell.Flags.Select(Flag), .. IsLeftOut(cell) ? [Voice.Say("page.cells.left-out")] : Array.Empty<string>()]);

    /// <summary>A flag, explained; the flag itself where this version does not know it.</summary>
    public static string Flag(string flag) => Voice.TrySay(new Phrase($"page.flag.{flag}")) ?? flag;

    /// <summary>The wider of the two mean line widths of a focus ladder's cell, mm; null unless both were measured.</summary>
    public static double? LineWidthMm(CellReading cell) =>
        cell.LineWidths is { AcrossXMm: { } x, AcrossYMm: { } y } ? Math.Max(x.Value, y.Value) : null;

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
    public static string Through(Opening? opening) =>
        opening is null ? Numbers.NotMeasured : Voice.Say("page.cells.through", ("opening", $"{opening}"));

    /// <summary>One side: state, open share, kerf, bridge.</summary>
    public static string Side(SideReading side)
    {
        List<(string, Figure)> values = [("state", $"{side.State}")];
        if (side.OpenFraction is double open) values.Add(("open", Share(open)));
        if (side.KerfMm is double kerf) values.Add(("kerf", Mm(kerf)));
        if (side.State == SideState.Partial && side.LongestBridgeMm is double bridge and > 0)
            values.Add(("bridge", Mm(Math.Round(bridge, 1)))); // no photo shows it finer
        if (side.State != SideState.Unseen && side.SeenFraction is double seen and < LeastSeen) values.Add(("seen", Share(seen)));
        return Voice.Say("page.cells.side", values);
    }

    /// <summary>The sides in the order they have everywhere: left, right, top, bottom.</summary>
    public static SideReading[] Each(Sides sides) => [sides.Left, sides.Right, sides.Top, sides.Bottom];

    /// <summary>Mean open share of the sides that could be judged, weighted by how much was seen; null where none could.</summary>
    public static double? OpenShare(CellReading cell)
    {
        if (cell.Sides is null) return null;
        double open = 0, seen = 0;
        foreach (SideReading side in Each(cell.Sides))
        {
            if (side.State == SideState.Unseen || side.OpenFraction is not double share) continue;
            double weight = side.SeenFraction ?? 1;
            open += weight * share;
            seen += weight;
        }

        return seen > 0 ? open / seen : null;
    }

    /// <summary>The energy with its unit.</summary>
    public static string Energy(Dose dose) => Voice.Tell(In(dose.Unit == Dose.JoulesPerMm ? Unit.JPerMm : Unit.JPerMm2, dose.Value));
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
