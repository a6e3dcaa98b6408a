using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Comparing;

public sealed class JointFitTests
{
    // A straight line over ln dose: parallel lines with a shift are the pharmacopoeia's parallel-line assay.
    private static readonly CurveBox LineBox = new([-1e6, -1e6], [1e6, 1e6]);

    private static double Line(ReadOnlySpan<double> p, double lnDose, double lnSpeed) => p[0] + p[1] * lnDose;

    private static List<JointCell> Cells(
        DataTable data, string other, double deviation, Func<string[], (double LnDose, double Response)> read) =>
    [
        .. data.Where("preparation", "S").Rows.Select(row => read(row))
            .Select(pair => new JointCell(false, pair.LnDose, 0, pair.Response, deviation)),
        .. data.Where("preparation", other).Rows.Select(row => read(row))
            .Select(pair => new JointCell(true, pair.LnDose, 0, pair.Response, deviation)),
    ];

    private static IEnumerable<OwnParameter> Own(CurveBox box, params int[] own) =>
        own.Select(j => new OwnParameter(j, box.Lower[j], box.Upper[j]));

    private static (JointFit Common, JointFit Separate) Fits(List<JointCell> cells)
    {
        double[] start = [cells.Average(cell => cell.Response), -1];
        JointFit common = JointFit.Fit(Line, cells, LineBox, [], hasRatio: true, [(start, start, 0)])!;
        JointFit separate = JointFit.Fit(Line, cells, LineBox, Own(LineBox, 0, 1), hasRatio: false, [(start, start, 0)])!;
        return (common, separate);
    }

    [Theory] // European Pharmacopoeia 5.3, example 5.1.4, hepatitis B vaccines; ratio and Fieller's interval computed with R 4.2.2
    [InlineData("T", 2.168905, 2.026363, 2.323506)]
    [InlineData("U", 1.758348, 1.644517, 1.881258)]
    [InlineData("V", 1.970352, 1.841824, 2.109464)]
    public void Parallel_lines_of_the_pharmacopoeia_give_its_ratio_and_interval(string preparation, double ratio, double low, double high)
    {
        // The published analysis has one residual variance and one slope for all four preparations.
        const double Residual = 0.006573711533, Student40 = 2.0210753903;
        DataTable data = DataTable.Read("pheur_hepatitis_b");
        List<JointCell> cells = Cells(data, preparation, Math.Sqrt(Residual), LnOf);
        cells.Add(SlopeOf(
            [.. data.Rows.Where(row => row[0] != "S" && row[0] != preparation)
                .GroupBy(row => row[0]).Select(group => group.Select(LnOf).ToArray())],
            Math.Sqrt(Residual)));

        JointFit fit = JointFit.Fit(LineOrSlope, cells, LineBox, [], hasRatio: true, [([0, 1], [0, 1], 0)])!;
        (double Low, double High) interval = fit.Interval(Student40 * Student40)!.Value;

        // "Needs so many times the dose" is the inverse of a potency.
        Assert.Equal(ratio, Math.Exp(-fit.LnRatio), 2e-5);
        Assert.Equal(low, Math.Exp(-interval.High), 2e-5);
        Assert.Equal(high, Math.Exp(-interval.Low), 2e-5);

        static (double LnDose, double Response) LnOf(string[] row) => (-Math.Log(double.Parse(row[1])), Math.Log(double.Parse(row[2])));
        static double LineOrSlope(ReadOnlySpan<double> p, double lnDose, double rootOfSpread) =>
            rootOfSpread == 0 ? p[0] + p[1] * lnDose : p[1] * rootOfSpread;
    }

    /// <summary>What the lines of other preparations say of the common slope, as one observation.</summary>
    private static JointCell SlopeOf((double X, double Y)[][] lines, double deviation)
    {
        double spread = lines.Sum(line => line.Sum(point => Math.Pow(point.X - line.Average(p => p.X), 2)));
        double product = lines.Sum(line => line.Sum(point => (point.X - line.Average(p => p.X)) * point.Y));
        return new(false, 0, Math.Sqrt(spread), product / Math.Sqrt(spread), deviation);
    }

    [Fact] // Example 5.1.1, corticotropin, T against S; common-slope residual, 37 df, computed with R 4.2.2
    public void The_interval_with_the_fits_own_residual_is_Fiellers()
    {
        List<JointCell> cells =
            Cells(DataTable.Read("pheur_corticotropin"), "T", 1, row => (Math.Log(double.Parse(row[1])), double.Parse(row[2])));
        (JointFit common, JointFit separate) = Fits(cells);
        double s2 = common.SumOfSquares / common.DegreesOfFreedom;
        (double Low, double High) interval = common.Interval(Math.Pow(2.0261924630, 2) * s2)!.Value;

        Assert.Equal(37, common.DegreesOfFreedom);
        Assert.Equal(26587.3, separate.SumOfSquares, 0.05);          // published residual SS without U
        Assert.Equal(1.111806, Math.Exp(-common.LnRatio), 1e-5);
        Assert.Equal(0.828502, Math.Exp(-interval.High), 1e-5);
        Assert.Equal(1.506682, Math.Exp(-interval.Low), 1e-5);
        Assert.True(EngravedPair.Test(common, separate).AreAlike);
    }

    [Fact] // Example 5.1.1: "U must be rejected as not parallel"
    public void A_preparation_that_the_pharmacopoeia_rejects_as_not_parallel_has_another_shape()
    {
        List<JointCell> cells =
            Cells(DataTable.Read("pheur_corticotropin"), "U", 1, row => (Math.Log(double.Parse(row[1])), double.Parse(row[2])));
        (JointFit common, JointFit separate) = Fits(cells);

        ShapeTest test = EngravedPair.Test(common, separate);
        Assert.False(test.AreAlike);
        Assert.Equal(1, test.DegreesOfFreedom);
        Assert.InRange(test.Probability, 0, 0.01);
    }

    [Fact] // S.alba of the R package drc 3.0-1: common b, c, d; relative potency 0.425398, F(1, 62) = 7.1618, p = 0.009515
    public void Herbicides_of_unequal_slope_give_the_ratio_and_the_test_of_drc()
    {
        DataTable data = DataTable.Read("salba");
        double[] doses = data.Numbers("Dose"), y = data.Numbers("DryMatter");
        string[] herbicides = data.Words("Herbicide");
        List<JointCell> cells =
            [.. doses.Select((dose, i) => new JointCell(herbicides[i] == "Bentazone", dose > 0 ? Math.Log(dose) : -50, 0, y[i], 1))];
        CurveBox box = new([0.1, 0, 0, 0], [20, 5, 10, 8]);
        double[] start = [3, 0.7, 3.8, 4];

        JointFit common = JointFit.Fit(LogLogistic, cells, box, [], hasRatio: true, [(start, start, -1)])!;
        JointFit separate = JointFit.Fit(LogLogistic, cells, box, Own(box, 0, 3), hasRatio: false, [(start, [5, 0.7, 3.8, 3.3], 0)])!;
        ShapeTest test = EngravedPair.Test(common, separate);

        Assert.Equal(9.49457586342, common.SumOfSquares, 1e-6);
        Assert.Equal(8.51139896253, separate.SumOfSquares, 1e-6);
        Assert.Equal(0.425398, Math.Exp(common.LnRatio), 2e-5);
        Assert.Equal((1, 62), (test.DegreesOfFreedom, test.ResidualDegreesOfFreedom!.Value));
        // Responses in units of 1: the test's floor of the variance at 1 would hide these residuals of 0.37, so F is formed here.
        double f = (common.SumOfSquares - separate.SumOfSquares) / (separate.SumOfSquares / 62);
        Assert.Equal(7.1618, f, 1e-4);

        static double LogLogistic(ReadOnlySpan<double> p, double lnDose, double lnSpeed) =>
            p[1] + (p[2] - p[1]) / (1 + Math.Exp(p[0] * (lnDose - p[3])));
    }
}
