using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using CardScan.Model;
using static CardScan.Reporting.Tests.PageReader;

namespace CardScan.Reporting.Tests;

public sealed class ReportPageTests
{
    public static TheoryData<string> Kinds =>
        ["engraved", "lighter", "cut", "advice", "unmeasured", "nine", "four hundred", "one", "tones"];

    internal static Reading Sample(string kind) => kind switch
    {
        "engraved" => Samples.Engraved(),
        "lighter" => Samples.Lighter(),
        "cut" => Samples.Cut(),
        "advice" => Samples.AdviceOnly(),
        "unmeasured" => Samples.Unmeasured(),
        "nine" => Samples.Engraved(Samples.Plan(3, 3)),
        "four hundred" => Samples.Engraved(Samples.Plan(20, 20, cellMm: 4, gapMm: 2)),
        "one" => Samples.Engraved(Samples.Plan(1, 1)),
        "tones" => ToneSectionTests.WithTones(Samples.Engraved()),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such sample."),
    };

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_page_is_well_formed_and_refers_to_nothing_outside(string kind)
    {
        string page = Page(Sample(kind), withPicture: true);
        XElement root = Parse(page);

        Assert.DoesNotContain("://", page, StringComparison.Ordinal);
        Assert.DoesNotContain("url(", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("@import", page, StringComparison.OrdinalIgnoreCase);
        string[] forbidden = ["script", "link", "iframe", "object", "embed", "form", "base", "img", "use"];
        Assert.DoesNotContain(root.Descendants(), element => forbidden.Contains(element.Name.LocalName));
        Assert.All(
            root.Descendants().Attributes().Where(attribute => attribute.Name.LocalName is "src" or "href" or "srcset" or "action"),
            attribute => Assert.StartsWith("data:image/jpeg;base64,", attribute.Value, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_policy_allows_the_one_style_sheet_by_its_hash_and_nothing_else(string kind)
    {
        string page = Page(Sample(kind), withPicture: true);
        XElement root = Parse(page);
        string hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Style(page))));

        XElement meta = root.Descendants("meta").Single(each => (string?)each.Attribute("http-equiv") == "Content-Security-Policy");
        string policy = meta.Attribute("content")!.Value;

        Assert.Equal($"default-src 'none'; img-src data:; style-src 'sha256-{hash}'; base-uri 'none'; form-action 'none'", policy);
        // A style attribute would be blocked by that policy, an event handler too.
        IEnumerable<string> names = root.Descendants().Attributes().Select(attribute => attribute.Name.LocalName);
        Assert.DoesNotContain(names, name => name == "style" || name.StartsWith("on", StringComparison.Ordinal));
    }

    [Fact]
    public void Sections_stand_in_their_order_the_recommendation_first()
    {
        Reading reading = Samples.Cut() with { Advice = [new("more", "Take one more photo.")], Model = Samples.Engraved().Model };
        XElement page = Parsed(reading, withPicture: true);

        Assert.Equal(
            ["recommendation", "advice", "photo", "grid", "curve", "kerf", "cells", "quality", "model", "cautions"],
            page.Descendants("section").Select(section => section.Attribute("aria-labelledby")!.Value));
    }

    [Fact]
    public void Whether_the_reading_can_be_used_stands_above_everything_and_warnings_come_by_gravity()
    {
        Reading reading = Samples.Engraved();
        ValueList<Warning> warnings = [new("noisy", "Much noise."), new("soft", "The photo is soft. Reach 80 % of it.")];
        reading = reading with { Photos = [reading.Photos[0] with { Warnings = warnings }] };

        string page = Page(reading);

        XElement judgement = Parse(page).Descendants("header").Single().Elements("p").Last();
        Assert.Equal(Judgement.Of(reading).Words, Text(judgement));
        Assert.Contains("The photo is soft.", Text(judgement), StringComparison.Ordinal);
        Assert.Equal("judgement doubtful", (string?)judgement.Attribute("class"));
        Assert.Equal(
            ["Warning: Much noise."],   // the graver one was said above
            Section(Parse(page), "quality")!.Descendants("li").Select(Text));
        Assert.Contains("Reach 80\u00a0% of it.", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_title_tells_card_material_batch_and_machine()
    {
        string header = Text(Parsed(Samples.Engraved()).Descendants("header").Single());

        Assert.Contains("Card 7", header, StringComparison.Ordinal);
        Assert.Contains("ash board, 3 mm", header, StringComparison.Ordinal);
        Assert.Contains("B-0001", header, StringComparison.Ordinal);
        Assert.Contains("lower bench, 10 W optical", header, StringComparison.Ordinal);
    }

    [Fact]
    public void A_recommendation_shows_setting_reason_confidence_and_interval()
    {
        string section = Text(Section(Parsed(Samples.Engraved()), "recommendation")!);

        Assert.Contains("Fastest full mark", section, StringComparison.Ordinal);
        Assert.Contains("800 mm/min", section, StringComparison.Ordinal);
        Assert.Contains("100 % power", section, StringComparison.Ordinal);
        Assert.Contains("The fastest speed that still gives a full mark.", section, StringComparison.Ordinal);
        Assert.Contains("93 % under the fitted model: very likely", section, StringComparison.Ordinal);
        Assert.Contains("Mark strength0.84 [0.82, 0.87], 95 % interval", section, StringComparison.Ordinal);
        Assert.Contains("Yes: the cell in row 1, column 6", section, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_between_cells_is_marked_as_not_tested_yet() => Assert.Contains(
        "Not yet: it lies between tested settings; the tested cell that supports it best is in row 1, column 4 (800 mm/min at 80 %",
        Text(Section(Parsed(Samples.Cut()), "recommendation")!), StringComparison.Ordinal);

    [Fact]
    public void A_card_without_a_recommendation_says_so_first_and_then_advises()
    {
        XElement page = Parsed(Samples.AdviceOnly());

        Assert.Contains("No setting recommended", Text(Section(page, "recommendation")!), StringComparison.Ordinal);
        Assert.Contains("burn a next card from 300 to 800 mm/min", Text(Section(page, "advice")!), StringComparison.Ordinal);
    }

    [Fact]
    public void An_untested_setting_stands_apart_from_the_tested_one()
    {
        UnburnedSetting unburned = new()
        {
            PowerPercent = 43, SpeedMmPerMin = 1210, Confidence = 0.84, Reason = "Test it before you rely on it.",
        };
        Reading reading = Samples.Engraved();
        reading = reading with { Recommendations = [reading.Recommendations[0] with { Unburned = unburned }] };
        XElement section = Section(Parsed(reading), "recommendation")!;
        XElement apart = section.Descendants("p").Single(p => (string?)p.Attribute("class") == "unburned");
        XElement figures = section.Descendants("p").Single(p => (string?)p.Attribute("class") == "figures");
        Assert.Equal(
            "Not tested yet: 1210 mm/min at 43 %. "
            + "It is likely to reach the goal: 84 % under the fitted model. Test it before you rely on it.",
            Text(apart));
        Assert.DoesNotContain("1210", Text(figures), StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_not_measured_is_said_and_never_shown_as_zero()
    {
        XElement page = Parsed(Samples.Unmeasured());
        string[] cells = [.. Section(page, "cells")!.Descendants("td").Select(Text)];
        string[] photo = [.. Section(page, "quality")!.Descendants("td").Select(Text)];

        // Four cells, each without dose and the six measurements.
        Assert.Equal(4 * 7, cells.Count(text => text == "not measured"));
        Assert.DoesNotContain(cells, text => Regex.IsMatch(text, "^0(\\.0+)?( |$)"));
        Assert.Equal(["front-lit", "100 × 80", .. Enumerable.Repeat("not measured", 8)], photo);
        Assert.Equal(4, Section(page, "grid")!.Descendants("text").Count(text => text.Value == "measured"));
        Assert.Null(Section(page, "curve"));
    }

    [Fact]
    public void The_photo_checks_figures_are_told_with_the_error_that_all_cells_share()
    {
        Reading reading = Samples.Engraved();
        PhotoQuality quality = new()
        {
            Mtf50AcrossXPerMm = 2.98,
            Mtf50AcrossYPerMm = 3.14,
            Noise = 0.0062,
            LightRange = 1.62,
            GlareShare = 0.021,
            ShadowShare = 0,
            DarknessScaleError = 0.15,
        };
        reading = reading with { Photos = [reading.Photos[0] with { Quality = quality }] };

        string section = Text(Section(Parsed(reading), "quality")!);

        foreach (string figure in (string[])["2.98, 3.14", "0.6", "1.6", "2.1, 0.0", "by the same proportion, about 15 %"])
            Assert.Contains(figure, section, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_cell_has_its_row_with_values_and_standard_errors()
    {
        Reading reading = Samples.Engraved();
        XElement table = Section(Parsed(reading), "cells")!.Descendants("tbody").Single();
        XElement[] rows = [.. table.Elements("tr").Where(row => row.Elements("th").Any())];

        Assert.Equal(reading.Cells.Count, rows.Length);
        Assert.Equal("r1 c1", Text(rows[0].Elements("th").Single()));
        Assert.Contains("0.537 ± 0.006", rows[0].Elements("td").Select(Text));
    }

    [Fact]
    public void Flags_are_explained_in_words()
    {
        string cells = Text(Section(Parsed(Samples.Engraved()), "cells")!);

        Assert.Contains(
            "r1 c4: Glare lies over the cell or beside it. It was left out of the scoring.", cells, StringComparison.Ordinal);
        Assert.Contains(
            "r2 c3: It does not fit the other cells and counts for little. "
            + "The bare material around it is uneven: a shadow, a knot or dirt.",
            cells, StringComparison.Ordinal);
        Assert.DoesNotContain("uneven-ground", cells, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_heading_cell_has_a_scope_and_every_drawing_an_alternative(string kind)
    {
        XElement page = Parsed(Sample(kind), withPicture: true);

        Assert.All(page.Descendants("th"), heading => Assert.Contains(heading.Attribute("scope")?.Value, new[] { "col", "row" }));
        Assert.All(
            page.Descendants("svg").Where(drawing => !drawing.Ancestors("svg").Any() && drawing.Attribute("aria-hidden") is null),
            drawing => Assert.True(drawing.Attribute("role")?.Value == "img" && drawing.Attribute("aria-label")!.Value.Length > 20));
        Assert.Equal("en", page.Attribute("lang")?.Value);
        Assert.Single(page.Descendants("h1"));
    }

    [Theory]
    [InlineData("engraved")]
    [InlineData("cut")]
    public void The_cautions_name_eyes_air_fire_and_presence_and_defer_to_manual_and_rules(string kind)
    {
        string cautions = Text(Section(Parsed(Sample(kind)), "cautions")!);

        string[] words =
        [
            "eyewear rated for this machine's wavelength", "extraction", "Never unattended", "extinguisher", "manual", "data sheet",
            "rules", "not a promise",
        ];
        Assert.All(words, word => Assert.Contains(word, cautions, StringComparison.Ordinal));
    }

    [Fact]
    public void The_photos_quality_and_warnings_are_told()
    {
        string quality = Text(Section(Parsed(Samples.Engraved()), "quality")!);

        // 0.21 px at 17.3 px/mm are 0.012 mm.
        foreach (string figure in new[] { "17.3", "6.2", "0.21", "0.012", "hold the phone flatter next time." })
            Assert.Contains(figure, quality, StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_screen_reader_reads_is_typeset_as_the_page_is()
    {
        string[] labels = [.. Parsed(Sample("tones")).Descendants().Attributes("aria-label").Select(label => label.Value)];

        Assert.Contains(labels, label => label.Contains("L* 90", StringComparison.Ordinal));
        Assert.DoesNotContain(labels, label => Regex.IsMatch(label, "[0-9] (%|mm|W|px|J/mm)|(^|[ (\\[])-[0-9]"));
    }

    [Fact]
    public void Only_what_may_be_wider_than_a_phone_says_how_to_see_the_rest()
    {
        XElement[] parts = [.. Parsed(Sample("cut")).Descendants("div").Where(part => (string?)part.Attribute("role") == "region")];

        Assert.NotEmpty(parts);
        Assert.All(parts, part => Assert.Equal(
            (string)part.Attribute("class")! == "scroller far", part.Attribute("data-more") is { Value.Length: > 0 }));
    }

    [Fact]
    public void A_saved_reading_without_pictures_says_where_the_photo_went() =>
        Assert.Contains(
            "made from a saved reading, without its photo", Text(Section(Parsed(Samples.Engraved()), "photo")!), StringComparison.Ordinal);

    [Fact]
    public void The_boundary_is_a_table_too_and_powers_above_full_are_not_promised()
    {
        Reading reading = Samples.Engraved() with
        {
            Boundary = [new(Goal.FastestFullMark, 1500, 47.23, 44.1, 51.02), new(Goal.FastestFullMark, 4000, 112, 104, 120)],
        };
        string[] cells = [.. Section(Parsed(reading), "grid")!.Descendants("td").Select(Text)];

        // Half-width 3.46, standard error 1.77: one decimal.
        Assert.Equal(["47.2", "44.1 to 51.0", "not reached at 100", "above 100"], cells);
    }
}
