using CardScan.Language;

namespace CardScan.Model.Tests;

/// <summary>Numbers with units. The inch is 25.4 mm exactly (ISO 80000-3); a minute has 60 s.</summary>
public class WrittenNumberTests
{
    [Theory]
    [InlineData("10mm/s", Unit.MmPerMin, 600.0)]
    [InlineData("10 mm/s", Unit.MmPerMin, 600.0)]
    [InlineData("600mm/min", Unit.MmPerMin, 600.0)]
    [InlineData("600", Unit.MmPerMin, 600.0)]
    [InlineData("1.2 m/min", Unit.MmPerMin, 1200.0)]
    [InlineData("100in/min", Unit.MmPerMin, 2540.0)]
    [InlineData("0.12in", Unit.Mm, 3.048)]
    [InlineData("1/8in", Unit.Mm, null)] // a fraction is no number
    [InlineData("0.12\"", Unit.Mm, 3.048)]
    [InlineData("3mm", Unit.Mm, 3.0)]
    [InlineData("0.3 CM", Unit.Mm, 3.0)]
    [InlineData("80um", Unit.Mm, 0.08)]
    [InlineData("-2mm", Unit.Mm, -2.0)]
    [InlineData("30%", Unit.Percent, 30.0)]
    [InlineData("10.6µm", Unit.Nm, 10600.0)]
    [InlineData("500mm/s^2", Unit.MmPerS2, 500.0)]
    [InlineData("1e3", Unit.None, 1000.0)]
    [InlineData("2,5mm", Unit.Mm, null)]
    [InlineData("", Unit.Mm, null)]
    [InlineData("mm", Unit.Mm, null)]
    [InlineData("NaN", Unit.Mm, null)]
    [InlineData("1e999", Unit.Mm, null)]
    public void A_number_is_read_with_its_unit(string text, Unit wanted, double? value)
    {
        WrittenNumber? number = WrittenNumber.Read(text);
        Assert.Equal(value is null, number is null);
        if (number is null) return;
        Assert.Null(number.FaultIn(wanted, out double found));
        Assert.Equal(value!.Value, found, 1e-9);
    }

    [Theory]
    [InlineData("3mm", Unit.MmPerMin, "mm is a unit of length. Units here: mm/min, mm/s, m/min, in/min, in/s.")]
    [InlineData("3mm/s", Unit.Mm, "mm/s is a unit of speed. Units here: mm, cm, in, µm.")]
    [InlineData("3W", Unit.Percent, "W is a unit of power. Units here: %.")]
    [InlineData("3%", Unit.None, "% is for shares and power. Give the number alone.")]
    [InlineData("3furlong", Unit.Mm, "furlong is not a unit that CardScan knows. Units here: mm, cm, in, µm.")]
    public void A_unit_of_the_wrong_kind_is_refused_by_name(string text, Unit wanted, string says) =>
        Assert.Equal(says, Voice.Tell(WrittenNumber.Read(text)!.FaultIn(wanted, out _)!));

    [Fact]
    public void A_bare_speed_is_refused_where_speeds_are_told_in_millimetres_a_second()
    {
        using IDisposable told = Voice.TellSpeedsIn(SpeedUnit.MmPerS);
        Assert.Equal("Speeds are shown in mm/s here, so a bare number could mean either unit. Give 10mm/s or 10mm/min.",
            Voice.Tell(WrittenNumber.Read("10")!.FaultIn(Unit.MmPerMin, out _)!));
        Assert.Null(WrittenNumber.Read("10mm/min")!.FaultIn(Unit.MmPerMin, out double speed));
        Assert.Equal(10, speed);
        Assert.Null(WrittenNumber.Read("10")!.FaultIn(Unit.Mm, out _));
    }
}
