using CardScan.Model;

namespace CardScan.Planning.Tests;

public class SettingRangeTests
{
    [Theory]
    [InlineData("50", new[] { 50.0 })]
    [InlineData("10,20,40", new[] { 10.0, 20, 40 })]
    [InlineData("20:80:7", new[] { 20.0, 30, 40, 50, 60, 70, 80 })]
    [InlineData("20:80:/20", new[] { 20.0, 40, 60, 80 })]
    [InlineData("20:75:/20", new[] { 20.0, 40, 60 })]
    [InlineData("5:80:5:log", new[] { 5.0, 10, 20, 40, 80 })]
    [InlineData("10:50:4:log", new[] { 10.0, 17.1, 29.2, 50 })]
    [InlineData("0.1:0.3:/0.1", new[] { 0.1, 0.2, 0.3 })]
    public void A_range_gives_its_values(string text, double[] values) =>
        Assert.Equal(values, SettingRange.Parse(Setting.PowerPercent, text).Value.Values);

    [Theory]
    [InlineData(Setting.PowerPercent, "abc", "--power has \"abc\", which is not a number")]
    [InlineData(Setting.PowerPercent, "", "--power has \"\"")]
    [InlineData(Setting.PowerPercent, "NaN", "--power has \"NaN\"")]
    [InlineData(Setting.PowerPercent, "20:NaN:3", "--power has \"NaN\"")]
    [InlineData(Setting.PowerPercent, "1e400", "--power has \"1e400\"")]
    [InlineData(Setting.PowerPercent, "140", "--power cannot be 140. Give more than 0, at most 100 %.")]
    [InlineData(Setting.PowerPercent, "20:140:3", "--power cannot be 140")]
    [InlineData(Setting.PowerPercent, "80:20:7", "--power runs from 80 to 20. Give the smaller value first")]
    [InlineData(Setting.PowerPercent, "20:20:3", "--power runs from 20 to 20")]
    [InlineData(Setting.PowerPercent, "20:80", "--power cannot be \"20:80\"")]
    [InlineData(Setting.PowerPercent, "20:80:7:9", "--power cannot be \"20:80:7:9\"")]
    [InlineData(Setting.PowerPercent, "20:80:7:lin", "--power cannot be \"20:80:7:lin\"")]
    [InlineData(Setting.PowerPercent, "20:80:/7:log", "--power cannot be \"20:80:/7:log\"")]
    [InlineData(Setting.PowerPercent, "0:80:7:log", "--power has log values from 0 on. Start above 0")]
    [InlineData(Setting.PowerPercent, "20:20.1:900:log", "--power has")]
    [InlineData(Setting.PowerPercent, "20:80:1", "--power asks for \"1\" values")]
    [InlineData(Setting.PowerPercent, "20:80:2.5", "--power asks for \"2.5\" values")]
    [InlineData(Setting.PowerPercent, "20:80:-3", "--power asks for \"-3\" values")]
    [InlineData(Setting.PowerPercent, "20:80:2000", "--power asks for \"2000\" values")]
    [InlineData(Setting.PowerPercent, "20:80:/0", "--power has a step of 0")]
    [InlineData(Setting.PowerPercent, "20:80:/NaN", "--power has \"NaN\"")]
    [InlineData(Setting.PowerPercent, "20:80:/100", "--power has a step of 100")]
    [InlineData(Setting.PowerPercent, "20:80:/1e-9", "--power makes more than 1000 values")]
    [InlineData(Setting.PowerPercent, "20,20", "--power has 20 after 20")]
    [InlineData(Setting.PowerPercent, "40,20", "--power has 20 after 40")]
    [InlineData(Setting.SpeedMmPerMin, "0:3000:4", "--speed cannot be 0. Give more than 0, at most 1000000 mm/min.")]
    [InlineData(Setting.SpeedMmPerMin, "-100", "--speed cannot be -100")]
    [InlineData(Setting.Passes, "1:4:3", "--passes cannot be 2.5. Give a whole number")]
    [InlineData(Setting.LineIntervalMm, "0", "--line-interval cannot be 0")]
    public void A_wrong_range_is_refused_in_one_line_that_names_the_option(Setting setting, string text, string start)
    {
        Refusal refusal = SettingRange.Parse(setting, text).Refusal!;
        Assert.Equal(RefusalKind.WrongInput, refusal.Kind);
        Assert.StartsWith(start, refusal.Told());
        Assert.DoesNotContain('\n', refusal.ToString());
        Assert.NotEmpty(refusal.Remedy);
    }

    [Theory]
    [InlineData(Setting.PowerPercent, "5:50:5%", "5, 16.25, 27.5, 38.75, 50")] // a unit behind the count is that of the ends
    [InlineData(Setting.SpeedMmPerMin, "300,600mm/min", "300, 600")]
    [InlineData(Setting.SpeedMmPerMin, "5,10mm/s", "300, 600")]
    [InlineData(Setting.SpeedMmPerMin, "5 mm/s, 10 mm/s", "300, 600")]
    [InlineData(Setting.SpeedMmPerMin, "5mm/s:10mm/s:2", "300, 600")]
    [InlineData(Setting.SpeedMmPerMin, "5:15:/5mm/s", "300, 600, 900")]
    [InlineData(Setting.SpeedMmPerMin, "10:40:3mm/s:log", "600, 1200, 2400")]
    [InlineData(Setting.SpeedMmPerMin, "5mm/s,600mm/min", "300, 600")] // each its own
    [InlineData(Setting.PowerPercent, "5%,10%", "5, 10")]
    [InlineData(Setting.LineIntervalMm, "0.01in", "0.254")]
    public void Units_may_stand_behind_each_number_or_behind_the_last(Setting setting, string text, string values) =>
        Assert.Equal(values, string.Join(", ", SettingRange.Parse(setting, text).Value.Values.Select(value => Math.Round(value, 6))));

    [Theory]
    [InlineData(Setting.SpeedMmPerMin, "5mm/s,600", "--speed cannot be \"5mm/s,600\". Give every number its unit")]
    [InlineData(Setting.SpeedMmPerMin, "5,10mm/s,15,20mm/s", "--speed cannot be \"5,10mm/s,15,20mm/s\". Give every number its unit")]
    [InlineData(Setting.SpeedMmPerMin, "5mm/s:15mm/s:/5", "--speed cannot be \"5mm/s:15mm/s:/5\". Give every number its unit")]
    [InlineData(Setting.SpeedMmPerMin, "3,4mm", "--speed cannot be \"3,4mm\". mm is a unit of length.")]
    [InlineData(Setting.PowerPercent, "5:50:5mm", "--power cannot be \"5:50:5mm\". mm is a unit of length.")]
    [InlineData(Setting.Passes, "2%", "--passes cannot be \"2%\". % is for shares and power. Give the number alone.")]
    [InlineData(Setting.Passes, "1001", "--passes cannot be 1001. Give a whole number from 1 to 1000.")]
    [InlineData(Setting.SpeedMmPerMin, "1e9", "--speed cannot be 1000000000. Give more than 0, at most 1000000 mm/min.")]
    public void Units_that_do_not_fit_and_limits_are_told(Setting setting, string text, string start) =>
        Assert.StartsWith(start, SettingRange.Parse(setting, text).Refusal!.Told());

    [Fact]
    public void A_focus_range_may_begin_below_the_surface() =>
        Assert.Equal([-2.0, -1, 0, 1, 2], SettingRange.Parse(Setting.FocusOffsetMm, "-2:2:5").Value.Values);
}
