using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class BoundaryLineTests
{
    private static Point[] Line(Reading reading)
    {
        GridFrame frame = new(reading.Plan, showsSides: false);
        XElement line = BoundaryLine.Draw(reading, frame).Single(path => (string?)path.Attribute("class") == "boundary-line");
        return [.. line.Attribute("d")!.Value.TrimStart('M').Split(" L").Select(Parse)];

        static Point Parse(string pair)
        {
            string[] xy = pair.Split(' ');
            return new(double.Parse(xy[0], CultureInfo.InvariantCulture), double.Parse(xy[1], CultureInfo.InvariantCulture));
        }
    }

    [Fact]
    public void The_line_passes_the_centre_of_a_cell_whose_setting_it_names_and_lies_between_others_in_proportion()
    {
        Reading reading = Samples.Engraved();
        (ValueList<double> powers, ValueList<double> speeds) = (reading.Plan.Columns.Values, reading.Plan.Rows.Values);
        reading = reading with
        {
            Boundary =
            [
                new("fastest-full-mark", speeds[0], powers[1], powers[0], powers[2]),
                new("fastest-full-mark", speeds[1], (3 * powers[2] + powers[3]) / 4, powers[2], powers[3]),
            ],
        };
        GridFrame frame = new(reading.Plan, showsSides: false);

        Point[] line = Line(reading);

        Assert.Equal(frame.Between(0, 1).X, line[0].X, 2);
        Assert.Equal(frame.Between(0, 1).Y, line[0].Y, 2);
        Assert.Equal(frame.Between(1, 2.25).X, line[1].X, 2);
        Assert.Equal(frame.Between(1, 2.25).Y, line[1].Y, 2);
    }

    [Fact]
    public void Exchanged_axes_exchange_the_line()
    {
        Reading reading = Samples.Engraved();
        Plan turned = reading.Plan with { Columns = reading.Plan.Rows, Rows = reading.Plan.Columns };
        double speed = turned.Columns.Values[1];
        double power = turned.Rows.Values[2];
        GridFrame frame = new(turned, showsSides: false);

        Point[] line = Line(reading with
        {
            Plan = turned,
            Boundary = [new("g", speed, power, power, power), new("g", turned.Columns.Values[2], power, power, power)],
        });

        Assert.Equal(frame.Between(2, 1).X, line[0].X, 2);
        Assert.Equal(frame.Between(2, 1).Y, line[0].Y, 2);
    }

    [Fact]
    public void Other_axes_and_no_boundary_draw_nothing()
    {
        Reading reading = Samples.Engraved();
        Plan focus = reading.Plan with { Columns = new() { Setting = Setting.FocusOffsetMm, Values = [-2, -1, 0, 1, 2, 3] } };

        Assert.Empty(BoundaryLine.Draw(reading with { Plan = focus }, new(focus, false)));
        Assert.Empty(BoundaryLine.Draw(reading with { Boundary = null }, new(reading.Plan, false)));
    }

    [Theory]
    [InlineData(20, 0)]
    [InlineData(30, 0.5)]
    [InlineData(80, 2)]
    [InlineData(60, 1.5)]
    [InlineData(120, 3)] // beyond the end, by the last step
    [InlineData(10, -0.5)]
    public void A_value_has_its_place_between_the_columns(double value, double expected) =>
        Assert.Equal(expected, AxisPlace.Of([20, 40, 80], value)!.Value, 12);

    [Fact]
    public void Falling_axes_work_too_and_unordered_ones_have_no_place()
    {
        Assert.Equal(0.5, AxisPlace.Of([80, 40, 20], 60));
        Assert.Null(AxisPlace.Of([20, 80, 40], 60));
        Assert.Null(AxisPlace.Of([20], 20));
    }
}
