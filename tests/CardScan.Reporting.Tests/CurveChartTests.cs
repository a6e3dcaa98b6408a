using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class CurveChartTests
{
    [Fact]
    public void The_chart_has_a_dot_for_each_used_cell_and_a_badge_for_the_recommended_one()
    {
        Reading reading = Samples.Engraved();
        XElement chart = CurveChart.Draw(new(reading), reading.Model!.Curve!)!;

        // 30 cells, one in glare, one recommended; the outlier is hollow.
        Assert.Equal(27, chart.Descendants("circle").Count(circle => (string?)circle.Attribute("class") == "dot"));
        Assert.Equal(1, chart.Descendants("circle").Count(circle => (string?)circle.Attribute("class") == "dot weak"));
        Assert.Single(chart.Descendants("text"), text => (string?)text.Attribute("class") == "strong");
        Assert.Contains("dose, J/mm² (logarithmic scale)", chart.Descendants("text").Select(text => text.Value));
        Assert.Contains("mark strength |1 − Y cell / Y bare|", chart.Descendants("text").Select(text => text.Value));
    }

    [Fact]
    public void Cells_that_obey_the_law_lie_on_its_curve()
    {
        Reading reading = Samples.Engraved();
        XElement chart = CurveChart.Draw(new(reading), reading.Model!.Curve!)!;
        string drawn = chart.Elements("path").Single(path => (string?)path.Attribute("class") == "curve").Attribute("d")!.Value;
        Point[] curve = [.. drawn[1..].Split(" L").Select(Pair)];

        foreach (XElement dot in chart.Descendants("circle").Where(circle => (string?)circle.Attribute("class") == "dot"))
        {
            Point at = new(Number(dot, "cx"), Number(dot, "cy"));
            int next = Math.Max(1, Array.FindIndex(curve, point => point.X >= at.X));
            Point before = curve[next - 1], after = curve[next];
            double y = before.Y + (after.Y - before.Y) * (at.X - before.X) / (after.X - before.X);
            Assert.InRange(at.Y - y, -0.5, 0.5);
        }

        static Point Pair(string text) => new(Parsed(text.Split(' ')[0]), Parsed(text.Split(' ')[1]));
        static double Number(XElement element, string name) => Parsed(element.Attribute(name)!.Value);
        static double Parsed(string number) => double.Parse(number, CultureInfo.InvariantCulture);
    }

    [Fact]
    public void A_band_without_bounds_stays_inside_the_plot()
    {
        Reading reading = Samples.Engraved();
        FittedCurve curve = reading.Model!.Curve! with { Points = [new(1, 0.2, -1e9, 1e9), new(2, 0.5, -1e9, 1e9)] };
        XElement chart = CurveChart.Draw(new(reading), curve)!;
        string band = chart.Elements("path").Single(path => (string?)path.Attribute("class") == "band").Attribute("d")!.Value;

        Assert.All(
            band.Split([' ', 'M', 'L', 'Z'], StringSplitOptions.RemoveEmptyEntries),
            number => Assert.InRange(double.Parse(number, CultureInfo.InvariantCulture), 0, 600));
    }

    [Fact]
    public void One_point_is_no_curve()
    {
        Reading reading = Samples.Engraved();

        Assert.Null(CurveChart.Draw(new(reading), reading.Model!.Curve! with { Points = [new(1, 0.2, 0.1, 0.3)] }));
    }

    [Theory]
    [InlineData(0, 1, new[] { 0, 0.2, 0.4, 0.6, 0.8, 1.0 })]
    [InlineData(0.03, 0.97, new[] { 0, 0.2, 0.4, 0.6, 0.8, 1.0 })]
    [InlineData(-0.4, 7, new double[] { -2, 0, 2, 4, 6, 8 })]
    [InlineData(5, 5, new double[] { 2, 3, 4, 5, 6, 7, 8 })]
    public void Linear_scales_end_on_round_ticks(double smallest, double largest, double[] ticks)
    {
        ChartScale scale = ChartScale.Linear(smallest, largest);

        Assert.Equal(ticks.Length, scale.Ticks.Count);
        for (int i = 0; i < ticks.Length; i++) Assert.Equal(ticks[i], scale.Ticks[i], 9);
    }

    [Fact]
    public void Wide_positive_ranges_are_logarithmic_and_others_linear()
    {
        Assert.True(ChartScale.For(0.01, 0.2).IsLogarithmic);
        Assert.False(ChartScale.For(0, 0.2).IsLogarithmic);
        Assert.False(ChartScale.For(2, 10).IsLogarithmic);
        Assert.Equal(["0.01", "0.02", "0.05", "0.1", "0.2"], ChartScale.For(0.01, 0.2).Ticks.Select(ChartScale.For(0.01, 0.2).Print));
    }
}
