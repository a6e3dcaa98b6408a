using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What the heat map shows of each cell, and in which colours.</summary>
/// <param name="Kind">The branch of the sentences about it.</param>
/// <param name="Low">Value at the start of the scale.</param>
/// <param name="High">Value at the end of the scale.</param>
/// <param name="Value">The cell's value, or null where it was not measured.</param>
/// <param name="Print">A value as printed into a cell of the map and at the ends of the colour bar.</param>
internal sealed record HeatQuantity(string Kind, double Low, double High, Func<CellReading, double?> Value, Func<double, string> Print)
{
    /// <summary>True when the end of the scale is its dark end.</summary>
    public bool IsDarkHigh { get; init; } = true;

    /// <summary>A small line below the value, where it needs one.</summary>
    public Func<CellReading, string?> Note { get; init; } = _ => null;

    /// <summary>The value of a measured cell as it shows when the pointer rests on it.</summary>
    public Func<CellReading, string> Tip { get => field ?? (cell => Print(Value(cell)!.Value)); init; }

    /// <summary>Name with its unit.</summary>
    public string Title => Voice.Say("page.map.title", ("kind", Kind));

    /// <summary>Short name under the colour bar.</summary>
    public string Legend => Voice.Say("page.map.legend", ("kind", Kind));

    /// <summary>
    /// The open share for cards whose sides were judged; the line width of a focus ladder; the char of a cut card seen
    /// from the front alone; else the darkness.
    /// </summary>
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

    private static HeatQuantity OpenShare { get; } = new("open", 0, 1, ShownCell.OpenShare, share => Voice.Tell(Share(share)))
    {
        IsDarkHigh = false,
        Note = JudgedSides,
        Tip = cell => ShownCell.Through(cell.Through),
    };

    /// <summary>A difference of two cards, zero in the middle of the scale, by the place of the cell.</summary>
    /// <param name="kind">The branch of the sentences about it.</param>
    /// <param name="decimals">Decimals printed.</param>
    /// <param name="values">The differences; a place without one is not measured.</param>
    /// <param name="differs">Places whose difference is more than chance.</param>
    public static HeatQuantity Difference(
        string kind, int decimals, IReadOnlyDictionary<(int Row, int Column), double> values, IReadOnlySet<(int Row, int Column)> differs)
    {
        double largest = Math.Max(values.Count == 0 ? 0 : values.Values.Max(Math.Abs), 2 * Math.Pow(10, -decimals));
        return new(
            kind, -largest, largest,
            cell => values.TryGetValue((cell.Row, cell.Column), out double value) ? value : null,
            value => Numbers.WithSign(value, decimals))
        {
            IsDarkHigh = false,
            Note = cell => differs.Contains((cell.Row, cell.Column)) ? Voice.Say("page.map.differs") : null,
        };
    }

    /// <summary>The wider of a cell's two mean widths: small where both axes are near their focus.</summary>
    private static HeatQuantity LineWidth(Reading reading)
    {
        double[] values = [.. reading.Cells.Select(ShownCell.LineWidthMm).OfType<double>()];
        (double low, double high) = values.Length == 0 ? (0, 1) : (values.Min(), Math.Max(values.Max(), values.Min() + 0.01));
        return new("line", low, high, ShownCell.LineWidthMm, Hundredths)
        {
            Tip = cell => Numbers.Fixed(ShownCell.LineWidthMm(cell)!.Value, 3),
        };
    }

    private static HeatQuantity Char(Reading reading)
    {
        double most = reading.Cells.Max(cell => cell.HaloMm?.Value) ?? 0;
        return new("char", 0, Math.Max(most, 0.01), cell => cell.HaloMm?.Value, Hundredths)
        {
            Tip = cell => Numbers.WithError(cell.HaloMm!, 2),
        };
    }

    private static HeatQuantity Darkness(Reading reading)
    {
        // Bare material, D = 0, is always on the scale, so that colours of faint cards do not shout.
        double[] values = [0, .. reading.Cells.Where(cell => cell.Darkness is not null).Select(cell => cell.Darkness!.Value)];
        (double low, double high) = (values.Min(), values.Max());
        return new("darkness", low, high > low ? high : low + 0.1, cell => cell.Darkness?.Value, Hundredths)
        {
            Tip = cell => Numbers.WithError(cell.Darkness!),
        };
    }

    private static string Hundredths(double value) => Numbers.Fixed(value, 2);

    /// <summary>"of 3": an open share must not pass for the whole cell's when a side is unseen.</summary>
    private static string? JudgedSides(CellReading cell)
    {
        if (cell.Sides is null) return null;
        int judged = ShownCell.Each(cell.Sides).Count(side => side.State != SideState.Unseen);
        return judged == 4 ? null : Voice.Say("page.map.of-judged", ("sides", judged));
    }
}
