namespace CardScan.Scoring.Fitting;

/// <summary>Likelihood, score and information of a logistic regression at one place.</summary>
internal sealed class LogisticPoint
{
    private readonly LogisticData _data;
    private readonly double _penalty;

    private LogisticPoint(LogisticData data, double[] coefficients, double penalty)
    {
        (_data, Coefficients, _penalty) = (data, coefficients, penalty);
        (double P, double Q)[] probabilities = new (double, double)[data.Design.Length];
        double[,] information = new double[coefficients.Length, coefficients.Length];
        LogLikelihood = Observe(probabilities, information);
        Inverse = SmallMatrix.Inverse(information, out double lnDeterminant);
        if (penalty > 0) LogLikelihood += Inverse is null ? double.NegativeInfinity : penalty * lnDeterminant;
        Score = ScoreAt(probabilities);
    }

    public double[] Coefficients { get; }

    /// <summary>Log-likelihood, penalised where it was asked for; binomial coefficients left out.</summary>
    public double LogLikelihood { get; }

    /// <summary>Derivatives of the log-likelihood by the coefficients.</summary>
    public double[] Score { get; }

    /// <summary>Inverse of the Fisher information; null where it is singular.</summary>
    public double[,]? Inverse { get; }

    public static LogisticPoint At(LogisticData data, double[] coefficients, double penalty) => new(data, coefficients, penalty);

    /// <summary>The place a step further.</summary>
    public LogisticPoint Moved(double[] move, double factor) =>
        new(_data, [.. Coefficients.Select((value, j) => value + factor * move[j])], _penalty);

    /// <summary>The inverse information times a vector.</summary>
    public double[] Times(double[] vector)
    {
        double[] product = new double[vector.Length];
        for (int j = 0; j < product.Length; j++)
        {
            for (int k = 0; k < product.Length; k++) product[j] += Inverse![j, k] * vector[k];
        }

        return product;
    }

    private double Observe((double P, double Q)[] probabilities, double[,] information)
    {
        int size = Coefficients.Length;
        double likelihood = 0;
        for (int i = 0; i < probabilities.Length; i++)
        {
            double[] x = _data.Design[i];
            double predictor = 0;
            for (int j = 0; j < size; j++) predictor += x[j] * Coefficients[j];
            // In a form that neither overflows nor loses the small one of the two probabilities.
            double rarer = Math.Exp(-Math.Abs(predictor));
            double lnDenominator = Math.Max(predictor, 0) + Math.Log(1 + rarer);
            (double common, double rare) = (1 / (1 + rarer), rarer / (1 + rarer));
            probabilities[i] = predictor >= 0 ? (common, rare) : (rare, common);
            likelihood += _data.Successes[i] * predictor - _data.Trials[i] * lnDenominator;
            double weight = _data.Trials[i] * common * rare;
            for (int j = 0; j < size; j++)
            {
                double weighted = weight * x[j];
                for (int k = 0; k <= j; k++) information[j, k] += weighted * x[k];
            }
        }

        return likelihood;
    }

    private double[] ScoreAt((double P, double Q)[] probabilities)
    {
        double[] score = new double[Coefficients.Length];
        for (int i = 0; i < probabilities.Length; i++)
        {
            double[] x = _data.Design[i];
            (double p, double q) = probabilities[i];
            double excess = _data.Successes[i] * q - (_data.Trials[i] - _data.Successes[i]) * p;
            if (_penalty > 0 && Inverse is not null) excess += _penalty * _data.Trials[i] * p * q * Spread(x, Inverse) * (q - p);
            for (int j = 0; j < score.Length; j++) score[j] += excess * x[j];
        }

        return score;
    }

    /// <summary>x′ V x: the predictor's variance there.</summary>
    private static double Spread(double[] x, double[,] inverse)
    {
        double sum = 0;
        for (int j = 0; j < x.Length; j++)
        {
            double row = inverse[j, j] * x[j] / 2;
            for (int k = 0; k < j; k++) row += inverse[j, k] * x[k];
            sum += 2 * row * x[j];
        }

        return sum;
    }
}
