using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Cutting;

/// <summary>
/// The terms of a card's slow end, where sides close again: an intercept, ln power with passes, and −ln speed, as far as they vary.
/// </summary>
/// <remarks>
/// Melt runs together again by its dose, or by the time alone that the beam takes: power has an exponent of its own, of which
/// less is known beforehand than of speed's. Both are as if some sides had been judged with a fifth less ln dose than the
/// limit, wherever that lies, and most of them had still been through. docs/method/cut-scoring.md, "The slow end".
/// </remarks>
internal sealed class SlowTerms
{
    private const double LessLnDose = -0.2;

    /// <summary>
    /// Sides, and the share of them that were through: an exponent of about 12 for speed as at the fast end, about 6 for power.
    /// </summary>
    private const double SpeedSides = 4, SpeedThrough = 0.917, PowerSides = 2, PowerThrough = 0.77;

    /// <summary>Share of speed's exponent by which chance may turn power's.</summary>
    private const double MostAgainst = 0.3;

    private readonly double _middlePower;
    private readonly double _middleSpeed;
    private readonly int _power = -1;
    private readonly int _speed = -1;

    public SlowTerms(CutCard card)
    {
        (_middlePower, _middleSpeed) = (card.Cells.Average(LnPower), card.Cells.Average(cell => cell.Point.LnSpeed));
        if (Varies(card.Cells.Select(cell => cell.Point.LnSpeed))) _speed = Count++;
        if (Varies(card.Cells.Select(LnPower))) _power = Count++;

        static double LnPower(CutCell cell) => cell.Point.LnPower + cell.Point.LnPasses;
        static bool Varies(IEnumerable<double> values) => values.Max() - values.Min() > 1e-6;
    }

    public int Count { get; private set; } = 1;

    /// <summary>More power never keeps melt apart: a slow end that needs it to is another thing, such as a reversed axis.</summary>
    public bool IsPlausible(double[] coefficients) =>
        _power < 0 || coefficients[_power] < MostAgainst * (_speed < 0 ? 0 : Math.Abs(coefficients[_speed]));

    public double[] RowAt(CutPoint point)
    {
        double[] row = new double[Count];
        row[0] = 1;
        if (_speed > 0) row[_speed] = _middleSpeed - point.LnSpeed;
        if (_power > 0) row[_power] = point.LnPower + point.LnPasses - _middlePower;
        return row;
    }

    /// <summary>The exponents by name.</summary>
    public IEnumerable<(string Name, int Index)> Named =>
        ((string, int)[])[("Speed", _speed), ("Power", _power)] is var all ? all.Where(term => term.Item2 > 0) : [];

    /// <summary>
    /// ln energy at which the predictor is zero, going up with power and down with speed by the same factor from a setting;
    /// null where neither does anything.
    /// </summary>
    public double? LnEnergyWhereHalf(CutPoint point, ReadOnlySpan<double> coefficients)
    {
        double[] row = RowAt(point);
        double predictor = 0, along = 0;
        for (int j = 0; j < row.Length; j++) predictor += row[j] * coefficients[j];
        if (_speed > 0) along += coefficients[_speed] / 2;
        if (_power > 0) along += coefficients[_power] / 2;
        return along == 0 ? null : point.LnPower + point.LnPasses - point.LnSpeed - predictor / along;
    }

    /// <summary>Coefficients before anything was seen: the steepness that is usual, and a limit at the card's most dose.</summary>
    public double[] Start(CutCard card)
    {
        double[] start = new double[Count];
        if (_speed > 0) start[_speed] = -12;
        if (_power > 0) start[_power] = -6;
        double[][] rows = [.. card.Cells.Select(cell => RowAt(cell.Point))];
        start[0] = -rows.Min(row => row.Zip(start, (x, b) => x * b).Sum());
        return start;
    }

    /// <summary>The observations with what is known beforehand.</summary>
    public LogisticData WithUsual(LogisticData data)
    {
        int size = data.Coefficients;
        List<(double[] Row, double Through, double Sides)> known = [];
        Add(_speed, SpeedSides, SpeedThrough);
        // Where speed does not vary, power is all there is.
        Add(_power, _speed > 0 ? PowerSides : SpeedSides, _speed > 0 ? PowerThrough : SpeedThrough);
        return new([.. data.Design, .. known.Select(k => k.Row)], [.. data.Successes, .. known.Select(k => k.Through * k.Sides)],
            [.. data.Trials, .. known.Select(k => k.Sides)]);

        void Add(int term, double sides, double through)
        {
            if (term < 0) return;
            double[] row = new double[size];
            row[term] = LessLnDose;
            known.Add((row, through, sides));
        }
    }
}
