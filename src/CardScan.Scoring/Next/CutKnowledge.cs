using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Next;

/// <summary>What a cut card tells of the logistic model of its sides: intercept, ln power, −ln speed, way a side runs.</summary>
/// <remarks>
/// A card that varies power or speed alone says nothing of the other's exponent; weak knowledge stands in, that exponents
/// seldom differ by more than half of themselves and the two ways by more than a third of the dose.
/// </remarks>
internal sealed class CutKnowledge : CardKnowledge
{
    private const double ExponentsApart = 0.5;
    private const double WaysApart = 0.3;

    /// <summary>A side that is through with a probability between these is an open question.</summary>
    private const double LeastOpen = 0.02, MostOpen = 0.98;

    private const int SidesOfARun = 2;

    private readonly CutPoint _middle;
    private readonly double _power;
    private readonly double _speed;
    private readonly double _alongX;
    private readonly double _alongY;
    private readonly double _inflation;

    private CutKnowledge(CutModel model, CutCard card, double power, double speed, CellSettings about)
    {
        (_power, _speed, _inflation) = (power, speed, model.Chance.Inflation);
        _middle = new(card.Cells.Average(cell => cell.Point.LnPower), card.Cells.Average(cell => cell.Point.LnSpeed), Math.Log(about.Passes), about.FocusOffsetMm);
        (_alongX, _alongY) = (model.SidePredictor(_middle, Run.AlongX), model.SidePredictor(_middle, Run.AlongY));
        double apart = 1 / Math.Pow(ExponentsApart * power, 2);
        (Known[1, 1], Known[2, 2], Known[1, 2], Known[2, 1]) = (apart, apart, -apart, -apart);
        Known[3, 3] = 1 / Math.Pow(WaysApart * power, 2);
        foreach (CutCell cell in card.Cells)
        {
            foreach (IGrouping<Run, CutSide> run in cell.DoseSides.GroupBy(side => side.Run))
                AddSide(Known, cell.Point.LnPower, cell.Point.LnSpeed, run.Key, model.SidePredictor(cell.Point, run.Key), run.Sum(side => side.Weight));
        }
    }

    /// <summary>Null where settings have no order, so that nothing can be planned by them.</summary>
    public static CutKnowledge? Of(CutModel model, CutCard card, CellSettings about)
    {
        double? power = model.PowerExponent?.Value ?? model.SpeedExponent?.Value ?? model.PassesExponent?.Value;
        return power is > 0 && model.IsMonotone ? new(model, card, power.Value, model.SpeedExponent?.Value ?? power.Value, about) : null;
    }

    public override void Add(double[,] information, double lnPower, double lnSpeed)
    {
        foreach (Run run in (ReadOnlySpan<Run>)[Run.AlongX, Run.AlongY])
            AddSide(information, lnPower, lnSpeed, run, Predictor(lnPower, lnSpeed, run), SidesOfARun);
    }

    public override double LnLimit(double lnSpeed) => _middle.LnPower + (_speed * (lnSpeed - _middle.LnSpeed) - Math.Min(_alongX, _alongY)) / _power;

    public override double[] LimitGradient(double lnSpeed)
    {
        double[] row = Row(LnLimit(lnSpeed), lnSpeed, _alongY < _alongX ? Run.AlongY : Run.AlongX);
        return [.. row.Select(x => -x / _power)];
    }

    public override bool IsOpen(double lnPower, double lnSpeed) =>
        IsOpen(Predictor(lnPower, lnSpeed, Run.AlongX)) || IsOpen(Predictor(lnPower, lnSpeed, Run.AlongY));

    private static bool IsOpen(double predictor) => 1 / (1 + Math.Exp(-predictor)) is > LeastOpen and < MostOpen;

    private double Predictor(double lnPower, double lnSpeed, Run run) =>
        (run == Run.AlongX ? _alongX : _alongY) + _power * (lnPower - _middle.LnPower) - _speed * (lnSpeed - _middle.LnSpeed);

    private void AddSide(double[,] information, double lnPower, double lnSpeed, Run run, double predictor, double sides)
    {
        double rarer = Math.Exp(-Math.Abs(predictor));
        double weight = sides / _inflation * rarer / ((1 + rarer) * (1 + rarer));
        double[] row = Row(lnPower, lnSpeed, run);
        for (int j = 0; j < row.Length; j++)
        {
            for (int k = 0; k < row.Length; k++) information[j, k] += weight * row[j] * row[k];
        }
    }

    private double[] Row(double lnPower, double lnSpeed, Run run) =>
        [1, lnPower - _middle.LnPower, _middle.LnSpeed - lnSpeed, run == Run.AlongY ? 1 : 0];
}
