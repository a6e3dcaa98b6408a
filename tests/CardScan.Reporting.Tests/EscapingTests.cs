using System.Xml.Linq;
using CardScan.Model;
using CsCheck;
using static CardScan.Reporting.Tests.PageReader;

namespace CardScan.Reporting.Tests;

public sealed class EscapingTests
{
    private const string Hostile =
        "</title></style><script>alert(1)</script><img src=x onerror=\"alert('2')\"> & &lt; ]]> {{}} {x, plural, other {#}} ${7*7}";

    private static Reading With(string text)
    {
        Reading reading = Samples.Engraved();
        return reading with
        {
            Plan = reading.Plan with
            {
                Title = text,
                Material = new() { Name = text, Batch = text },
                Machine = new() { Name = text, RatedOpticalWatts = 5 },
            },
            PlanSha256 = text,
            Photos = [reading.Photos[0] with { File = text, Warnings = [new(text, text)] }],
            Cells = reading.Cells.Select(cell => cell with { Flags = [text] }).ToValueList(),
            Recommendations = [reading.Recommendations[0] with { Goal = text, Reason = text, Interval = new(text, 1, 0, 2) }],
            Advice = [new(text, text) { Goal = text }],
            Boundary = [new(text, 1000, 50, 40, 60)],
            Model = reading.Model! with
            {
                Name = text,
                Parameters = new([new(text, new(1, 0.1))]),
                Diagnostics = new([new(text, 1)]),
                Curve = reading.Model.Curve! with { Abscissa = text },
            },
        };
    }

    [Fact]
    public void Hostile_text_in_any_field_stays_text()
    {
        XElement harmless = Parsed(With("harmless"), withPicture: true);
        XElement page = Parsed(With(Hostile), withPicture: true);

        Assert.Equal(Hostile, page.Descendants("h1").Single().Value);
        // The same elements and the same attributes: the text made none of its own.
        Assert.Equal(
            harmless.DescendantsAndSelf().Select(element => element.Name), page.DescendantsAndSelf().Select(element => element.Name));
        Assert.Equal(
            harmless.DescendantsAndSelf().Attributes().Select(attribute => attribute.Name),
            page.DescendantsAndSelf().Attributes().Select(attribute => attribute.Name));
        Assert.DoesNotContain("<script", Page(With(Hostile)), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void What_no_page_can_hold_and_what_turns_text_around_is_replaced()
    {
        XElement page = Parsed(With("a\0b\u001bc\ud800d\u202ee\u2066f\uffffg"));

        Assert.Equal("a\ufffdb\ufffdc\ufffdd\ufffde\ufffdf\ufffdg", page.Descendants("h1").Single().Value);
    }

    [Fact]
    public void Any_text_makes_a_well_formed_page() => Gen.String.Sample(
        text => Parse(Page(With(text))).Descendants("h1").Any(),
        iter: 50);

    [Fact]
    public void Letters_of_other_scripts_stay_as_they_are() =>
        Assert.Equal("Bouleau – берёза – 樺 – κ½ 🪵", Parsed(With("Bouleau – берёза – 樺 – κ½ 🪵")).Descendants("h1").Single().Value);

    [Fact]
    public void A_title_the_typeface_cannot_write_leaves_the_picture_whole()
    {
        Reading reading = With("樺\u0007");

        Assert.NotEmpty(CardReport.AnnotatedPng(reading, Samples.Picture(reading.Plan, 4)));
    }

    [Fact]
    public void A_very_long_text_is_no_obstacle()
    {
        Reading reading = With(new string('w', 200_000));

        Assert.NotEmpty(CardReport.AnnotatedPng(reading, Samples.Picture(reading.Plan, 4)));
        Assert.NotEmpty(Page(reading));
    }
}
