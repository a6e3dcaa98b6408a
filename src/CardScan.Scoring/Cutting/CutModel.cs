using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Cutting;

/// <summary>Logistic model of a side being open, in ln power and ln speed with free exponents, and the way the side runs.</summary>
/// <remarks>
/// logit p = a + b · ln(power · passes) − c · ln(speed) + d · [along y]. b = c where only line energy counts; exp(−d / b)
/// is the dose that sides along y need, over that of sides along x. Every side adds its weight as trials and its open
/// share of them as successes; Firth's penalty keeps the usual clean staircase finite. docs/method/cut-scoring.md, "Model".
/// </remarks>
internal sealed class CutModel
{
    private const int Intercept = 0;
    private const double Quantile = 1.959963984540054;

    private readonly LogisticFit _fit;
    private readonly double _middleLnPower;
    private readonly double _middleLnSpeed;
    private readonly int _power;
    private readonly int _speed;
    private readonly int _run;

    private CutModel(LogisticFit fit, double middleLnPower, double middleLnSpeed, int power, int speed, int run) =>
        (_fit, _middleLnPower, _middleLnSpeed, _power, _speed, _run) = (fit, middleLnPower, middleLnSpeed, power, speed, run);

    /// <summary>Coefficient of ln power with its standard error; null where power does not vary.</summary>
    public (double Value, double Error)? PowerExponent => Coefficient(_power);

    /// <summary>Coefficient of −ln speed with its standard error; null where speed does not vary.</summary>
    public (double Value, double Error)? SpeedExponent => Coefficient(_speed);

    /// <summary>
    /// Dose that sides along y need over that of sides along x, with its 95 % interval; null where not both were judged,
    /// where power does not vary, or where the interval has no end.
    /// </summary>
    public Fieller? DoseRatioOfRuns =>
        _run < 0 || _power < 0 || _fit.Covariance is not { } v ? null
            : Fieller.Of(-_fit.Coefficients[_run], _fit.Coefficients[_power], v[_run, _run], -v[_run, _power], v[_power, _power], Quantile);

    /// <summary>Penalised log-likelihood.</summary>
    public double LogLikelihood => _fit.LogLikelihood;

    /// <summary>Two-sided probability of exponents this far apart, were only line energy to count; null where not both are estimated.</summary>
    public double? EnergyOnlyProbability
    {
        get
        {
            if (_power < 0 || _speed < 0 || _fit.Covariance is not { } v) return null;
            double difference = _fit.Coefficients[_power] - _fit.Coefficients[_speed];
            double error = Math.Sqrt(v[_power, _power] + v[_speed, _speed] - 2 * v[_power, _speed]);
            return 2 * MathNet.Numerics.Distributions.Normal.CDF(0, 1, -Math.Abs(difference) / error);
        }
    }

    /// <summary>The fitted model; null where the card holds nothing to compare.</summary>
    public static CutModel? Fit(CutCard card)
    {
        // Sides of one cell that run the same way share their predictor, so they are one observation of more trials.
        (CutCell Cell, Run Run, double Open, double Weight)[] sides = [.. card.Cells.SelectMany(cell => cell.Sides
            .GroupBy(side => side.Run)
            .Select(group => (cell, group.Key, group.Sum(side => side.OpenFraction * side.Weight), group.Sum(side => side.Weight))))];
        double middlePower = card.Cells.Average(cell => cell.LnPower);
        double middleSpeed = card.Cells.Average(cell => cell.LnSpeed);
        int next = 1;
        int power = Varies(card.Cells.Select(cell => cell.LnPower)) ? next++ : -1;
        int speed = Varies(card.Cells.Select(cell => cell.LnSpeed)) ? next++ : -1;
        int run = sides.Select(side => side.Run).Distinct().Count() > 1 ? next++ : -1;
        if (power < 0 && speed < 0) return null;

        LogisticData data = new(
            [.. sides.Select(side => Row(next, side.Cell.LnPower - middlePower, side.Cell.LnSpeed - middleSpeed, side.Run, power, speed, run))],
            [.. sides.Select(side => side.Open)],
            [.. sides.Select(side => side.Weight)]);
        LogisticFit fit = LogisticFit.Fit(data);
        return fit.HasConverged && fit.Covariance is not null ? new(fit, middlePower, middleSpeed, power, speed, run) : null;
    }

    /// <summary>Probability that a side is open, by best estimate.</summary>
    public double Probability(double lnPower, double lnSpeed, Run run) => Logistic(Predictor(lnPower, lnSpeed, run));

    /// <summary>Lower end of that probability's 95 % profile-likelihood interval.</summary>
    public double LowerProbability(double lnPower, double lnSpeed, Run run) =>
        Logistic(_fit.At(RowAt(lnPower, lnSpeed, run)).ProfileLimit(Intercept, isUpper: false));

    /// <summary>Upper end of that probability's 95 % profile-likelihood interval.</summary>
    public double UpperProbability(double lnPower, double lnSpeed, Run run) =>
        Logistic(_fit.At(RowAt(lnPower, lnSpeed, run)).ProfileLimit(Intercept, isUpper: true));

    /// <summary>ln of the power (times passes) at which a side is open with probability ½, with its Fieller interval.</summary>
    public Fieller? HalfwayLnPower(double lnSpeed, Run run)
    {
        if (_power < 0 || _fit.Covariance is not { } v) return null;
        // Predictor = rest + b · (lnPower − middle); the rest is a linear form of the other coefficients.
        double[] rest = RowAt(_middleLnPower, lnSpeed, run);
        double value = 0, variance = 0, covariance = 0;
        for (int j = 0; j < rest.Length; j++)
        {
            value += rest[j] * _fit.Coefficients[j];
            covariance += rest[j] * v[j, _power];
            for (int k = 0; k < rest.Length; k++) variance += rest[j] * v[j, k] * rest[k];
        }

        Fieller? ratio = _fit.Coefficients[_power] > 0
            ? Fieller.Of(-value, _fit.Coefficients[_power], variance, -covariance, v[_power, _power], Quantile)
            : null;
        return ratio is null ? null : new(ratio.Value + _middleLnPower, ratio.Low + _middleLnPower, ratio.High + _middleLnPower);
    }

    private double Predictor(double lnPower, double lnSpeed, Run run)
    {
        double[] row = RowAt(lnPower, lnSpeed, run);
        double sum = 0;
        for (int j = 0; j < row.Length; j++) sum += row[j] * _fit.Coefficients[j];
        return sum;
    }

    private double[] RowAt(double lnPower, double lnSpeed, Run run) =>
        Row(_fit.Coefficients.Length, lnPower - _middleLnPower, lnSpeed - _middleLnSpeed, run, _power, _speed, _run);

    private static double[] Row(int size, double lnPower, double lnSpeed, Run run, int powerAt, int speedAt, int runAt)
    {
        double[] row = new double[size];
        row[Intercept] = 1;
        if (powerAt > 0) row[powerAt] = lnPower;
        if (speedAt > 0) row[speedAt] = -lnSpeed;
        if (runAt > 0) row[runAt] = run == Run.AlongY ? 1 : 0;
        return row;
    }

    private (double Value, double Error)? Coefficient(int index) =>
        index < 0 ? null : (_fit.Coefficients[index], Math.Sqrt(_fit.Covariance![index, index]));

    private static bool Varies(IEnumerable<double> values)
    {
        double[] all = [.. values];
        return all.Max() - all.Min() > 1e-6;
    }

    private static double Logistic(double predictor) => 1 / (1 + Math.Exp(-predictor));
}
