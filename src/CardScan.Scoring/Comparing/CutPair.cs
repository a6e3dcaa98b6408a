using CardScan.Model;
using CardScan.Scoring.Cutting;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Comparing;

/// <summary>Two cut cards on one logistic curve.</summary>
internal static class CutPair
{
    public const string ModelName = "penalised-logistic";

    private const double Level = EngravedPair.ShapeLevel;

    private sealed record Observation(bool IsOther, CutCell Cell, CutDirection Direction, double Open, double Weight);

    public static PairEstimate Estimate(Reading first, Reading later, double lnMargin)
    {
        (CutCard a, CutCard b) = (CutCard.Of(first), CutCard.Of(later));
        if (a.Cells.Count == 0 || b.Cells.Count == 0) return new() { Obstacle = ComparisonMessages.NothingMeasured() };
        // A card whose sides are all through or all held fixes no dose.
        if (!a.IsMixed || !b.IsMixed) return new() { Obstacle = ComparisonMessages.AllSidesAlike() };

        Observation[] sides = [.. Sides(a, isOther: false), .. Sides(b, isOther: true)];
        (LogisticData data, int power, int speed, int[] shapeColumns) = DataOf(sides);
        int slope = power > 0 ? power : speed;
        if (slope < 0 || JointLogistic.Fit(data, [.. sides.Select(side => side.IsOther)], slope, shapeColumns) is not { } fit)
            return new() { Obstacle = ComparisonMessages.NoCurve() };

        ShapeTest? shape = fit.Shape is { } tested
            ? new(tested.Statistic, tested.Probability, Level, tested.Probability >= Level) { DegreesOfFreedom = tested.Tests }
            : null;
        return new() { Shape = shape, Dose = shape is { AreAlike: false } ? null : DoseOf(fit, lnMargin, power, speed) };
    }

    private static IEnumerable<Observation> Sides(CutCard card, bool isOther) => card.Cells.SelectMany(cell => cell.DoseSides
        .GroupBy(side => side.Direction)
        .Select(group => new Observation(isOther, cell, group.Key, group.Where(side => side.IsThrough).Sum(side => side.Weight),
            group.Sum(side => side.Weight))));

    /// <summary>Passes count as power.</summary>
    private static double LnPower(CutCell cell) => cell.Point.LnPower + cell.Point.LnPasses;

    /// <summary>Columns: intercept, ln power, −ln speed, along y; those that do not vary are left out.</summary>
    private static (LogisticData Data, int Power, int Speed, int[] ShapeColumns) DataOf(Observation[] sides)
    {
        List<Func<Observation, double>> columns = [_ => 1];
        List<int> shape = [];
        double middlePower = sides.Average(side => LnPower(side.Cell)), middleSpeed = sides.Average(side => side.Cell.Point.LnSpeed);
        int power = Add(side => LnPower(side.Cell) - middlePower), speed = Add(side => middleSpeed - side.Cell.Point.LnSpeed);
        Add(side => side.Direction == CutDirection.AlongY ? 1 : 0);
        return (
            new([.. sides.Select(side => (double[])[.. columns.Select(column => column(side))])], [.. sides.Select(side => side.Open)],
                [.. sides.Select(side => side.Weight)]),
            power, speed, [.. shape]);

        int Add(Func<Observation, double> column)
        {
            if (!Varies(sides, column)) return -1;
            // What varies on one card alone cannot be told for the other.
            if (Varies(sides.Where(side => side.IsOther), column) && Varies(sides.Where(side => !side.IsOther), column))
                shape.Add(columns.Count);
            columns.Add(column);
            return columns.Count - 1;
        }
    }

    private static bool Varies(IEnumerable<Observation> sides, Func<Observation, double> column) =>
        sides.Select(column) is var values && values.Max() - values.Min() > 1e-6;

    private static DoseEstimate? DoseOf(JointLogistic fit, double lnMargin, int power, int speed)
    {
        if (fit.Interval(0.95) is not { } wide || fit.Interval(1 - 2 * TwoOneSidedTests.Level) is not { } narrow) return null;
        double probability = TwoOneSidedTests.Probability(fit.Distance(-lnMargin), fit.Distance(lnMargin), fit.ErrorDegreesOfFreedom);
        bool hasBoth = power > 0 && speed > 0;
        return new(fit.LnRatio, wide.Low, wide.High, narrow.Low, narrow.High, probability, ModelName)
        {
            SpeedExponent = hasBoth ? fit.Coefficients[speed] / fit.Coefficients[power] : speed > 0 ? 1 : null,
            SpeedExponentError = hasBoth ? fit.RatioError(speed, power) : 0,
            Steepness = fit.Coefficients[power > 0 ? power : speed],
        };
    }
}
