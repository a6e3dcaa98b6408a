using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Calibration;

/// <summary>How closely cells of a known law can tell its limit: Fisher information of the law itself, without any fit.</summary>
/// <remarks>
/// A law may be of any form, so what is unknown of it is put as changes of the law: a factor on its marks, a shift and a
/// stretch of its ln dose about the limit, the exponent of speed, for marks the dose at which they begin, for cuts the ratio
/// of the two ways. The limit's error is then that of the shift, with all the others unknown. Cards are taken to be burned
/// alike.
/// </remarks>
internal sealed class TrueInformation
{
    private const int Scale = 0, Shift = 1, Stretch = 2, Exponent = 3, Beginning = 4, Count = 5;

    /// <summary>For derivatives.</summary>
    private const double Step = 1e-4;

    /// <summary>What is known beforehand; thirty cells outvote it. It keeps a card of one power or one speed finite.</summary>
    private const double ExponentApart = 0.4, LnStretchApart = 1, BeginningApart = 0.1, ScaleApart = 1000;

    private const double Normal95 = 1.96;

    private readonly Dictionary<(double, double), Matrix<double>> _cells = [];
    private readonly Func<double, double, IEnumerable<double[]>> _rows;

    private TrueInformation(Func<double, double, IEnumerable<double[]>> rows) => _rows = rows;

    /// <summary>What is known before any card.</summary>
    public static Matrix<double> Before { get; } = Matrix<double>.Build.DenseOfDiagonalArray(
        [
            1 / (ScaleApart * ScaleApart),
            0,
            1 / (LnStretchApart * LnStretchApart),
            1 / (ExponentApart * ExponentApart),
            1 / (BeginningApart * BeginningApart)
        ]);

    /// <summary>The information about the limit at a speed; null where no power reaches it.</summary>
    public static TrueInformation? At(TrueCard truth, double speed) => truth.BoundaryPower(speed) is not { } limit ? null : truth switch
    {
        EngravedTruth marks => new((power, at) => [MarkRow(marks, speed, Math.Log(limit), power, at)]),
        _ => new((power, at) => SideRows((CutTruth)truth, speed, power, at)),
    };

    /// <summary>What a grid of cells tells.</summary>
    public Matrix<double> Of(IEnumerable<double> powers, IReadOnlyCollection<double> speeds)
    {
        Matrix<double> sum = Matrix<double>.Build.Dense(Count, Count);
        foreach (double power in powers)
            foreach (double speed in speeds) sum += OfCell(power, speed);
        return sum;
    }

    /// <summary>Half width of the 95 % interval of ln power at the limit, percent.</summary>
    public static double HalfWidthPercent(Matrix<double> information) => 100 * Normal95 * Math.Sqrt(information.Inverse()[Shift, Shift]);

    private Matrix<double> OfCell(double power, double speed)
    {
        if (_cells.TryGetValue((power, speed), out Matrix<double>? known)) return known;
        Matrix<double> sum = Matrix<double>.Build.Dense(Count, Count);
        foreach (double[] row in _rows(power, speed)) sum += Vector<double>.Build.Dense(row).OuterProduct(Vector<double>.Build.Dense(row));
        return _cells[(power, speed)] = sum;
    }

    /// <summary>Derivatives of a mark over its deviation.</summary>
    private static double[] MarkRow(EngravedTruth truth, double asked, double lnLimit, double power, double speed)
    {
        double mark = At(), deviation = Math.Sqrt(
            Math.Pow(Math.Log(10) * (1 - mark) * EngravedTruth.DarknessError, 2) + Math.Pow(truth.CellChance * mark, 2));
        double[] row = new double[Count];
        row[Scale] = mark / deviation;
        row[Shift] = (At(shift: Step) - At(shift: -Step)) / (2 * Step) / deviation;
        row[Stretch] = (At(stretch: Step) - At(stretch: -Step)) / (2 * Step) / deviation;
        row[Exponent] = (At(exponent: Step) - At(exponent: -Step)) / (2 * Step) / deviation;
        row[Beginning] = (At(beginning: Step) - At(beginning: -Step)) / (2 * Step) / deviation;
        return row;

        // The limit at the asked speed stays where it is under a stretch, another exponent and another beginning.
        double At(double shift = 0, double stretch = 0, double exponent = 0, double beginning = 0)
        {
            double lnSpeed = Math.Log(speed / asked), lnLimitHere = lnLimit + truth.SpeedExponent * lnSpeed;
            double part = (Math.Exp(Math.Log(power) - lnLimitHere - exponent * lnSpeed) - beginning) / (1 - beginning);
            return part <= 0 ? 0 : truth.Strength(Math.Exp(lnLimitHere + Math.Log(part) * Math.Exp(stretch) + shift), speed);
        }
    }

    /// <summary>The two sides of each way: derivatives of their probability over its deviation.</summary>
    private static IEnumerable<double[]> SideRows(CutTruth truth, double asked, double power, double speed)
    {
        double lnSpeed = Math.Log(speed / asked), x = truth.LnDose(power, speed);
        foreach (bool isAlongY in (bool[])[true, false])
        {
            double above = x - (isAlongY ? Math.Log(truth.DoseRatio) : 0), p = Through(truth, above);
            if (p is <= 1e-9 or >= 1 - 1e-9) continue;
            double root =
                Math.Sqrt(2 / Together(truth) / (p * (1 - p))) * (Through(truth, above + Step) - Through(truth, above - Step)) / (2 * Step);
            double[] row = new double[Count];
            // The limit is that of the harder way, along y.
            (row[Scale], row[Shift], row[Stretch], row[Exponent]) = (isAlongY ? 0 : root, root, root * above, -root * lnSpeed);
            yield return row;
        }
    }

    /// <summary>Averaged over the chance that the sides of a cell share.</summary>
    private static double Through(CutTruth truth, double lnDose)
    {
        double sum = 0, weights = 0;
        for (double z = -3; z <= 3; z += 0.5)
        {
            double weight = Math.Exp(-z * z / 2);
            sum += weight * truth.Law.Probability(lnDose + truth.CellChance * z);
            weights += weight;
        }

        return sum / weights;
    }

    /// <summary>Sides that share their cell's chance fail together and tell less: the design effect of four of them.</summary>
    private static double Together(CutTruth truth)
    {
        const double LogisticVariance = Math.PI * Math.PI / 3;
        double shared = Math.Pow(truth.CellChance * truth.Law.Steepness, 2);
        return 1 + 3 * shared / (LogisticVariance + shared);
    }
}
