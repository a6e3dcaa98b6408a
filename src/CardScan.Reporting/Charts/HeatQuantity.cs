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
    /// <summary>Short name under the colour bar.</summary>
    public required string Legend { get; init; }

    /// <summary>A value as printed at the ends of the colour bar.</summary>
    public required Func<double, string> PrintEnd { get; init; }

    /// <summary>What shows when the pointer rests on a cell; null leaves that to the map.</summary>
    public Func<CellReading, string>? Tip { get; init; }

    /// <summary>The open share for cards whose sides were judged; the line width of a focus ladder; the char of a cut card seen from the front alone; else the darkness.</summary>
    public static HeatQuantity Of(Reading reading) =>
        reading.Cells.Any(cell => cell.Sides is not null) ? OpenShare
        : reading.Plan.Kind == CardKind.FocusLadder ? LineWidth(reading)
        : reading.Plan.Process == Process.Cut ? Char(reading)
        : Darkness(reading);

    /// <summary>The colour of a value: darker marks get darker colours, openings get lighter ones.</summary>
    public Rgb Colour(double value)
    {
        double share = (value - Low) / (High - Low);
        return HeatColours.At(IsDarkHigh ? 1 - share : share);
    }

    private static HeatQuantity OpenShare { get; } = new(
        "Share of the judged sides that is open", 0, 1, IsDarkHigh: false,
        CellWords.OpenShare, cell => CellWords.OpenShare(cell) is double share ? Numbers.Percent(share) : null,
        JudgedSides)
    { Legend = "open share", PrintEnd = Numbers.Percent };

    /// <summary>A difference of two cards, zero in the middle of the scale, by the place of the cell.</summary>
    /// <param name="title">Name with its unit.</param>
    /// <param name="legend">Short name.</param>
    /// <param name="decimals">Decimals printed.</param>
    /// <param name="values">The differences; a place without one is not measured.</param>
    /// <param name="differs">Places whose difference is more than chance.</param>
    public static HeatQuantity Difference(
        string title, string legend, int decimals, IReadOnlyDictionary<(int Row, int Column), double> values, IReadOnlySet<(int Row, int Column)> differs)
    {
        double largest = Math.Max(values.Count == 0 ? 0 : values.Values.Max(Math.Abs), 2 * Math.Pow(10, -decimals));
        return new(
            title, -largest, largest, IsDarkHigh: false,
            cell => values.TryGetValue((cell.Row, cell.Column), out double value) ? value : null,
            cell => values.TryGetValue((cell.Row, cell.Column), out double value) ? Numbers.WithSign(value, decimals) : null,
            cell => differs.Contains((cell.Row, cell.Column)) ? "differs" : null)
        {
            Legend = legend,
            PrintEnd = value => Numbers.WithSign(value, decimals),
            Tip = cell => values.TryGetValue((cell.Row, cell.Column), out double value) ? $"{legend} {Numbers.WithSign(value, decimals)}" : Numbers.NotMeasured,
        };
    }

    /// <summary>The wider of a cell's two mean widths: small where both axes are near their focus.</summary>
    private static HeatQuantity LineWidth(Reading reading)
    {
        double[] values = [.. reading.Cells.Select(CellWords.LineWidthMm).OfType<double>()];
        return new(
            "Line width, the wider of both directions, mm", values.Length == 0 ? 0 : values.Min(), values.Length == 0 ? 1 : Math.Max(values.Max(), values.Min() + 0.01), IsDarkHigh: true,
            CellWords.LineWidthMm, cell => CellWords.LineWidthMm(cell) is double mm ? Numbers.Fixed(mm, 2) : null, _ => null)
        {
            Legend = "line width, mm",
            PrintEnd = value => Numbers.Fixed(value, 2),
            Tip = cell => CellWords.LineWidthMm(cell) is double mm ? $"line width {Numbers.Fixed(mm, 3)} mm" : Numbers.NotMeasured,
        };
    }

    private static HeatQuantity Char(Reading reading)
    {
        double most = reading.Cells.Max(cell => cell.HaloMm?.Value) ?? 0;
        return new(
            "Char beside the cut, mm", 0, Math.Max(most, 0.01), IsDarkHigh: true,
            cell => cell.HaloMm?.Value, cell => cell.HaloMm is { } halo ? Numbers.Fixed(halo.Value, 2) : null, _ => null)
        {
            Legend = "char, mm",
            PrintEnd = value => Numbers.Fixed(value, 2),
            Tip = cell => cell.HaloMm is { } halo ? $"char {Numbers.WithError(halo, 2)} mm" : Numbers.NotMeasured,
        };
    }

    private static HeatQuantity Darkness(Reading reading)
    {
        // Bare material, D = 0, is always on the scale, so that colours of faint cards do not shout.
        double[] values = [0, .. reading.Cells.Where(cell => cell.Darkness is not null).Select(cell => cell.Darkness!.Value)];
        (double low, double high) = (values.Min(), values.Max());
        return new(
            "Darkness D against the bare material (reflection density)", low, high > low ? high : low + 0.1, IsDarkHigh: true,
            cell => cell.Darkness?.Value, cell => cell.Darkness is { } darkness ? Numbers.Fixed(darkness.Value, 2) : null, _ => null)
        { Legend = "darkness D", PrintEnd = value => Numbers.Fixed(value, 2) };
    }

    /// <summary>"of 3": an open share must not pass for the whole cell's when a side is unseen.</summary>
    private static string? JudgedSides(CellReading cell)
    {
        if (cell.Sides is null) return null;
        int judged = CellWords.Each(cell.Sides).Count(side => side.Side.State != SideState.Unseen);
        return judged == 4 ? null : $"of {judged}";
    }
}
