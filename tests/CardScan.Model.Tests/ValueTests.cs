using CardScan.Language;

namespace CardScan.Model.Tests;

public class ValueTests
{
    // Areal and line energy, worked by hand: E_l = P / v with v in mm/s, E_a = E_l / line interval
    // (W. M. Steen, J. Mazumder, Laser Material Processing, 4th ed., Springer 2010).
    [Theory]
    [InlineData(5, 100, 6000, 0.10, 0.05, 0.5)]
    [InlineData(10, 100, 3000, 0.08, 0.2, 2.5)]
    [InlineData(20, 100, 1200, 0.10, 1.0, 10.0)]
    [InlineData(5, 50, 500, 0.05, 0.3, 6.0)]
    public void Dose_is_optical_power_over_speed_and_over_line_interval(
        double ratedWatts, double power, double speed, double interval, double joulesPerMm, double joulesPerMm2)
    {
        CellSettings settings = new() { PowerPercent = power, SpeedMmPerMin = speed, LineIntervalMm = interval };
        Dose line = settings.DoseOf(Process.Cut, ratedWatts)!;
        Dose area = settings.DoseOf(Process.Engrave, ratedWatts)!;
        Assert.Equal(joulesPerMm, line.Value, 1e-12);
        Assert.Equal("J/mm", line.Unit);
        Assert.Equal(joulesPerMm2, area.Value, 1e-12);
        Assert.Equal("J/mm2", area.Unit);
    }

    [Fact]
    public void Passes_multiply_the_dose() =>
        Assert.Equal(0.6, new CellSettings { PowerPercent = 100, SpeedMmPerMin = 3000, Passes = 3 }.DoseOf(Process.Cut, 10)!.Value, 1e-12);

    [Fact]
    public void Line_energy_is_told_per_thickness_and_areal_energy_is_not()
    {
        Assert.Equal(0.2, new Dose(0.6, Dose.JoulesPerMm).PerThickness(3)!.Value, 1e-12);
        Assert.Null(new Dose(0.6, Dose.JoulesPerMm).PerThickness(null));
        Assert.Null(new Dose(0.6, Dose.JoulesPerMm2).PerThickness(3));
    }

    [Fact]
    public void A_fill_without_a_line_interval_has_no_dose() =>
        Assert.Null(new CellSettings { PowerPercent = 100, SpeedMmPerMin = 3000 }.DoseOf(Process.Engrave, 10));

    [Fact]
    public void The_settings_of_a_cell_come_from_its_column_its_row_and_the_fixed_ones()
    {
        CellSettings settings = Samples.Plan.SettingsOf(Samples.Plan.Cells[1]);
        Assert.Equal((40.0, 1000.0, 1, 0.0, 0.1),
            (settings.PowerPercent, settings.SpeedMmPerMin, settings.Passes, settings.FocusOffsetMm, settings.LineIntervalMm));
    }

    [Theory]
    [InlineData(0.301030, 0.5)] // half the light of the bare material: D = -log10(0.5)
    [InlineData(1, 0.9)]
    [InlineData(0, 0)]
    [InlineData(-0.301030, 1)] // twice the light: a lighter mark counts alike
    public void Mark_strength_is_the_contrast_of_the_densities(double darkness, double strength) =>
        Assert.Equal(strength, (Cell with { Darkness = new(darkness, 0.01) }).MarkStrength!.Value, 1e-6);

    [Fact]
    public void The_error_of_mark_strength_is_that_of_a_small_step_in_darkness()
    {
        const double darkness = 0.7, step = 1e-6;
        double slope = (Strength(darkness + step) - Strength(darkness - step)) / (2 * step);
        Assert.Equal(slope * 0.01, (Cell with { Darkness = new(darkness, 0.01) }).MarkStrength!.StandardError, 1e-8);

        static double Strength(double value) => (Cell with { Darkness = new(value, 0) }).MarkStrength!.Value;
    }

    [Theory]
    [InlineData(0.123456789, 0.01, 0.1235, 0.01)]
    [InlineData(123.456789, 1.5, 123.46, 1.5)]
    [InlineData(0.5, 0, 0.5, 0)]
    public void A_measured_value_is_rounded_to_a_hundredth_of_its_error(double value, double error, double rounded, double roundedError) =>
        Assert.Equal(new Measured(rounded, roundedError), Measured.Of(value, error));

    [Theory]
    [InlineData(double.NaN, 0.1)]
    [InlineData(1, double.NaN)]
    [InlineData(1, -0.1)]
    [InlineData(double.PositiveInfinity, 0.1)]
    public void A_measured_value_that_is_no_number_throws(double value, double error) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Measured.Of(value, error));

    [Fact]
    public void A_refused_outcome_has_no_value()
    {
        Outcome<int> outcome = Refusal.OfPhoto(Codes.PhotoEmpty);
        Assert.True(outcome.IsRefused);
        Assert.Throws<InvalidOperationException>(() => outcome.Value);
        Assert.Equal("a.jpg: The file is empty. Copy the photo from the phone again.", outcome.Refusal!.In("a.jpg").ToString());
    }

    [Fact]
    public void Lists_and_maps_are_equal_when_their_content_is()
    {
        Assert.True(ValueList.Create<double>([1, 2]).Equals(ValueList.Create<double>([1, 2])));
        Assert.False(ValueList.Create<double>([1, 2]).Equals(ValueList.Create<double>([2, 1])));
        Assert.True(new ValueMap<int>([new("a", 1), new("b", 2)]).Equals(new ValueMap<int>([new("b", 2), new("a", 1)])));
        Assert.False(new ValueMap<int>([new("a", 1)]).Equals(new ValueMap<int>([new("a", 2)])));
    }

    private static CellReading Cell => Samples.Reading.Cells[0];
}
