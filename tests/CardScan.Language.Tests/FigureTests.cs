using System.Text.Json;
using CsCheck;
using static CardScan.Language.Figures;

namespace CardScan.Language.Tests;

public class FigureTests
{
    /// <summary>
    /// The spelling of each kind of value; the rules of SI: a space before the unit, none before a degree sign (The
    /// International System of Units, 9th edition, 5.4.3).
    /// </summary>
    public static TheoryData<Figure, string> Spelled => new()
    {
        { Speed(1500), "1500 mm/min" },
        { Speed(0.04), "0 mm/min" },
        { In(Unit.MmPerS2, 500), "500 mm/s²" },
        { Power(82.5), "82.5 %" },
        { Share(0.5), "50 %" },
        { Share(0.9876), "98.8 %" },
        { Share(0.9999), "over 99.9 %" },
        { Share(1), "100 %" },
        { Share(0.0001), "under 0.1 %" },
        { Share(0.97, 0.944, 0.991), "97 % [94, 99]" },
        { Share(0.991, 0.96, 0.998), "99.1 % [96, 99.8]" },
        { Mm(0.25), "0.25 mm" },
        { Mm(0.042), "0.042 mm" },
        { Mm(12), "12 mm" },
        { Mm(-0.0001), "0 mm" },
        { Seconds(3.25), "3.3 s" },
        { Seconds(59.4), "59 s" },
        { Seconds(61), "1 min 1 s" },
        { Seconds(120), "2 min" },
        { Seconds(3600 * 2 + 60 * 5), "2 h 5 min" },
        { In(Unit.JPerMm2, 1.234), "1.23 J/mm²" },
        { In(Unit.Degrees, 12.34), "12.3°" },
        { In(Unit.Factor, 1.15, 1.1, 1.2), "1.15× [1.10, 1.20]" },
        { In(Unit.Bytes, 1_500_000), "1.5 MB" },
        { new SettingFigure(1500, 80), "1500 mm/min at 80 %" },
        { new SettingFigure(1500, 80, 2), "1500 mm/min at 80 % in 2 passes" },
        { new SettingFigure(1500, 80, 1, 0.08, -1.5), "1500 mm/min at 80 %, line interval 0.08 mm, focus offset -1.5 mm" },
        { List([1, 2, 3]), "1, 2, 3" },
        { 42, "42" },
        { "birch 3", "birch 3" },
    };

    [Theory]
    [MemberData(nameof(Spelled))]
    public void Every_kind_of_value_has_one_spelling(Figure figure, string expected) => Assert.Equal(expected, Voice.Tell(figure));

    [Fact]
    public void A_value_survives_a_file()
    {
        Gen<Unit> unit = Gen.Enum<Unit>();
        Gen<Figure> plain = Gen.OneOf(
            Gen.Double[-1e6, 1e6].Select(value => (Figure)new Number(value, Unit.None)),
            Gen.Select(Gen.Double[-1e6, 1e6], unit).Select((value, of) => (Figure)new Number(value, of)),
            Gen.Select(Gen.Double[0, 1], unit).Select((value, of) => (Figure)new Number(value, of, value - 1, value + 1)),
            Gen.String.Select(text => (Figure)new Word(text)),
            Gen.Select(Gen.Double[1, 9e4], Gen.Double[0, 100], Gen.Int[1, 9])
                .Select((speed, power, passes) => (Figure)new SettingFigure(speed, power, passes)),
            Gen.Select(Gen.Double[1, 9e4], Gen.Double[-5, 5])
                .Select((speed, focus) => (Figure)new SettingFigure(speed, 50, 1, 0.1, focus)));
        Gen<Figure> any = Gen.OneOf(
            plain,
            plain.Array[0, 4].Select(items => (Figure)new Listing(items)),
            Gen.Select(plain, plain).Select((a, b) => (Figure)new Phrase("some-code", ("a", a), ("b", b))));

        any.Sample(figure => JsonSerializer.Deserialize<Figure>(JsonSerializer.Serialize(figure))!.Equals(figure),
            seed: "0000KOIPYYDF", iter: 2000);
    }

    [Theory]
    [InlineData("""{"value": 3, "unit": "furlongs"}""")]
    [InlineData("""{"length": 3}""")]
    [InlineData("null")]
    [InlineData("true")]
    public void What_is_no_value_of_this_version_is_no_value(string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        Assert.Null(FigureConverter.Of(document.RootElement));
    }

    /// <summary>A minute has 60 s; 1 mm/min is 0.017 mm/s, so three decimals lose less than a machine can hold.</summary>
    public static TheoryData<Figure, string> SpelledPerSecond => new()
    {
        { Speed(600), "10 mm/s" },
        { Speed(2200), "36.67 mm/s" },
        { Speed(10), "0.167 mm/s" },
        { In(Unit.MmPerMin, 600, 540, 660), "10 mm/s [9, 11]" },
        { new SettingFigure(1500, 80), "25 mm/s at 80 %" },
        { Mm(3), "3 mm" },
    };

    [Theory]
    [MemberData(nameof(SpelledPerSecond))]
    public void Speeds_are_told_in_millimetres_a_second_where_that_is_chosen_and_only_there(Figure figure, string spelled)
    {
        string before = Voice.Tell(figure);
        using (Voice.TellSpeedsIn(SpeedUnit.MmPerS))
        {
            Assert.Equal(spelled, Voice.Tell(figure));
            using (Voice.WriteFiles()) Assert.Equal(before, Voice.Tell(figure));
            Assert.Equal(spelled, Voice.Tell(figure));
        }

        Assert.Equal(before, Voice.Tell(figure));
    }

    [Fact]
    public void Headings_name_the_unit_that_is_chosen()
    {
        Assert.Equal("Speed, mm/min", Voice.Say("page.setting.head", ("setting", "SpeedMmPerMin")));
        using IDisposable told = Voice.TellSpeedsIn(SpeedUnit.MmPerS);
        Assert.Equal("Speed, mm/s", Voice.Say("page.setting.head", ("setting", "SpeedMmPerMin")));
    }
}
