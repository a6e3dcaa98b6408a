using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What the heat map shows of each cell, and in which colours.</summary>
/// <param name="Title">Name with its unit, for the legend.</param>
/// <param name="Low">Value at the start of the scale.</param>
/// <param name="High">Value at the end of the scale.</param>
/// <param name="IsDarkHigh">True when the end of the scale is its dark end.</param>
/// <param name="Value">The cell's value, or null where it was not measured.</param>
/// <param name="Print">The value as printed into a cell of the map.</param>
/// <param name="Note">A small line below the value, where it needs one.</param>
internal sealed record HeatQuantity(
    string Title, double Low, double High, bool IsDarkHigh, Func<CellReading, double?> Value, Func<CellReading, string?> Print,
    Func<CellReading, string?> Note)
{
    /// <summary>The open share for cards whose sides were judged; else the darkness.</summary>
    public static HeatQuantity Of(Reading reading) =>
        reading.Cells.Any(cell => cell.Sides is not null) ? OpenShare : Darkness(reading);

    /// <summary>The colour of a value: darker marks get darker colours, openings get lighter ones.</summary>
    public Rgb Colour(double value)
    {
        double share = (value - Low) / (High - Low);
        return HeatColours.At(IsDarkHigh ? 1 - share : share);
    }

    private static HeatQuantity OpenShare { get; } = new(
        "Share of the judged sides that is open", 0, 1, IsDarkHigh: false,
        CellWords.OpenShare, cell => CellWords.OpenShare(cell) is double share ? Numbers.Percent(share) : null,
        JudgedSides);

    private static HeatQuantity Darkness(Reading reading)
    {
        // Bare material, D = 0, is always on the scale, so that colours of faint cards do not shout.
        double[] values = [0, .. reading.Cells.Where(cell => cell.Darkness is not null).Select(cell => cell.Darkness!.Value)];
        (double low, double high) = (values.Min(), values.Max());
        return new(
            "Darkness D against the bare material (reflection density)", low, high > low ? high : low + 0.1, IsDarkHigh: true,
            cell => cell.Darkness?.Value, cell => cell.Darkness is { } darkness ? Numbers.Value(darkness, 2) : null, _ => null);
    }

    /// <summary>"of 3": an open share must not pass for the whole cell's when a side is unseen.</summary>
    private static string? JudgedSides(CellReading cell)
    {
        if (cell.Sides is null) return null;
        int judged = CellWords.Each(cell.Sides).Count(side => side.Side.State != SideState.Unseen);
        return judged == 4 ? null : $"of {judged}";
    }
}
