using System.Xml.Linq;
using CardScan.Model;
using static CardScan.Reporting.Tests.PageReader;

namespace CardScan.Reporting.Tests;

public sealed class ToneSectionTests
{
    internal static Reading WithTones(Reading reading) => reading with
    {
        Tones = new()
        {
            Setting = Setting.PowerPercent,
            StepsAsked = 5,
            Steps = [new(20.5, 800, 90, 88, 92), new(45, 800, 65, 62, 68), new(88.1, 800, 40, 36, 44)],
            Curve = new(
                "power, %",
                [
                    .. reading.Cells.Where(cell => cell.Row == 0)
                        .Select(cell => new CurveCell(cell.Row, cell.Column, cell.Settings.PowerPercent)),
                ],
                [new(20, 91, 89, 93), new(50, 62, 60, 64), new(100, 37, 33, 41)]),
        },
    };

    [Fact]
    public void Each_tone_shows_its_grey_its_setting_and_its_interval()
    {
        XElement section = Section(Parsed(WithTones(Samples.Engraved())), "tones")!;
        XElement[] rows = [.. section.Descendants("tbody").Single().Elements("tr")];

        Assert.Equal(3, rows.Length);
        Assert.Contains("20.5", Text(rows[0]), StringComparison.Ordinal);
        Assert.Contains("90 [88, 92]", Text(rows[0]), StringComparison.Ordinal);
        // sRGB of L* 90, 65 and 40 by IEC 61966-2-1 and ISO/CIE 11664-4, worked apart from this program: 226, 158, 94.
        Assert.Equal(["#e2e2e2", "#9e9e9e", "#5e5e5e"], rows.Select(row => row.Descendants("rect").Single().Attribute("fill")!.Value));
    }

    [Fact]
    public void The_range_and_tones_that_were_not_given_are_told()
    {
        string text = Text(Section(Parsed(WithTones(Samples.Engraved())), "tones")!);

        Assert.Contains("3 even tones by power (5 were asked for, but no more could be told apart)", text, StringComparison.Ordinal);
        Assert.Contains("L* 90", text, StringComparison.Ordinal);
        Assert.Contains("L* 40", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Tones_lighter_than_the_bare_material_have_no_L_star()
    {
        Reading reading = WithTones(Samples.Engraved());
        reading = reading with { Tones = reading.Tones! with { Steps = [new(20.5, 800, 173, 170, 176), new(88.1, 800, 223, 220, 226)] } };
        XElement section = Section(Parsed(reading), "tones")!;
        Assert.Contains("(relative lightness 173)", Text(section), StringComparison.Ordinal);
        Assert.DoesNotContain("L* 173", section.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("lightness L*", section.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_without_tones_has_no_such_section() => Assert.Null(Section(Parsed(Samples.Engraved()), "tones"));
}
