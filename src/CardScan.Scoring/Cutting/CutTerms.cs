using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>A setting as the cut model sees it.</summary>
/// <param name="LnPower">ln of the percent of full power.</param>
/// <param name="LnSpeed">ln of the speed, mm/min.</param>
/// <param name="LnPasses">ln of the passes.</param>
/// <param name="FocusMm">Focus offset, mm, negative below the surface.</param>
internal readonly record struct CutPoint(double LnPower, double LnSpeed, double LnPasses, double FocusMm);

/// <summary>The terms of a card's cut model: an intercept, and one for each thing that varies over its judged cells.</summary>
/// <remarks>
/// Focus enters by its square as well: a beam is narrowest at one depth, and the dose that opens a side grows like the
/// beam's width on both sides of it. With three focus offsets that is an efficiency for each.
/// </remarks>
internal sealed class CutTerms
{
    private const int Intercept = 0;

    private readonly CutPoint _middle;
    private readonly double _leastFocus;
    private readonly double _mostFocus;

    private CutTerms(CutCard card)
    {
        CutPoint[] points = [.. card.Cells.Select(cell => cell.Point)];
        // Terms about the card's middle hang together less, and their information is better conditioned.
        _middle = new(points.Average(p => p.LnPower), points.Average(p => p.LnSpeed), points.Average(p => p.LnPasses),
            points.Average(p => p.FocusMm));
        (_leastFocus, _mostFocus) = (points.Min(p => p.FocusMm), points.Max(p => p.FocusMm));
        Power = Varies(p => p.LnPower) ? Count++ : -1;
        Speed = Varies(p => p.LnSpeed) ? Count++ : -1;
        Passes = Varies(p => p.LnPasses) ? Count++ : -1;
        int focusOffsets = points.Select(p => p.FocusMm).Distinct().Count();
        Focus = focusOffsets > 1 ? Count++ : -1;
        FocusSquare = focusOffsets > 2 ? Count++ : -1;
        HasSettings = Count > 1;
        Direction = card.Cells.SelectMany(cell => cell.DoseSides).Select(side => side.Direction).Distinct().Count() > 1 ? Count++ : -1;
        int cards = card.Cells.Max(cell => cell.Card) + 1;
        Cards = cards > 1 ? [.. Enumerable.Range(0, cards).Select(_ => Count++)] : [];

        bool Varies(Func<CutPoint, double> of) => points.Max(of) - points.Min(of) > 1e-6;
    }

    public int Count { get; private set; } = 1;

    /// <summary>Index of ln power; −1 where it does not vary, as with the others.</summary>
    public int Power { get; }

    /// <summary>Index of −ln speed.</summary>
    public int Speed { get; }

    /// <summary>Index of ln passes.</summary>
    public int Passes { get; }

    /// <summary>Index of the focus offset.</summary>
    public int Focus { get; }

    /// <summary>Index of its square.</summary>
    public int FocusSquare { get; }

    /// <summary>Index of the mark of sides along y.</summary>
    public int Direction { get; }

    /// <summary>
    /// Indexes of what each card needs less of, in logits, than cards of this material on average; none where all cells stand on one.
    /// </summary>
    public ValueList<int> Cards { get; }

    /// <summary>True where some setting varies.</summary>
    public bool HasSettings { get; }

    public static CutTerms Of(CutCard card) => new(card);

    /// <summary>The row of the design of a side.</summary>
    /// <param name="point">Its setting.</param>
    /// <param name="direction">Which way it runs.</param>
    /// <param name="card">The card that it stands on; null for cards of this material on average.</param>
    public double[] RowAt(CutPoint point, CutDirection direction, int? card = null)
    {
        double[] row = new double[Count];
        row[Intercept] = 1;
        double focus = point.FocusMm - _middle.FocusMm;
        if (Power > 0) row[Power] = point.LnPower - _middle.LnPower;
        if (Speed > 0) row[Speed] = _middle.LnSpeed - point.LnSpeed;
        if (Passes > 0) row[Passes] = point.LnPasses - _middle.LnPasses;
        if (Focus > 0) row[Focus] = focus;
        if (FocusSquare > 0) row[FocusSquare] = focus * focus;
        if (Direction > 0) row[Direction] = direction == CutDirection.AlongY ? 1 : 0;
        if (card is { } index && index < Cards.Count) row[Cards[index]] = 1;
        return row;
    }

    /// <summary>
    /// Focus offset at which sides open most easily; null where focus does not vary or the best lies at the card's edge or beyond.
    /// </summary>
    public double? BestFocusMm(ReadOnlySpan<double> coefficients)
    {
        if (FocusSquare < 0 || !(coefficients[FocusSquare] < 0)) return null;
        double best = _middle.FocusMm - coefficients[Focus] / (2 * coefficients[FocusSquare]);
        return best > _leastFocus && best < _mostFocus ? best : null;
    }
}
