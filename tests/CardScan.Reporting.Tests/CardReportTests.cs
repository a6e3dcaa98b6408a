using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class CardReportTests
{
    [Fact]
    public void The_public_surface_is_the_entry_point_its_inputs_and_the_pieces_that_other_pages_are_made_of() =>
        Assert.Equal(
            [
                "CardReport", "ComparedPicture", "ComparisonInput", "HistoryDot", "HistoryInput", "Html", "Markup", "NamedReading",
                "PagePhoto", "PlanParts", "ReportInput", "ReportParts",
            ],
            typeof(CardReport).Assembly.GetExportedTypes().Select(type => type.Name).Order());

    [Fact]
    public void The_same_input_gives_the_same_bytes()
    {
        Reading reading = Samples.Engraved();
        CardPicture picture = Samples.Picture(reading.Plan);

        Assert.Equal(Page(), Page());
        Assert.Equal(CardReport.Csv(reading), CardReport.Csv(reading));
        Assert.Equal(CardReport.AnnotatedPng(reading, picture), CardReport.AnnotatedPng(reading, picture));

        string Page() => CardReport.Html(new(reading, [CardReport.OnPage(picture)]));
    }

    [Fact]
    public void A_picture_whose_bytes_do_not_fill_it_is_a_programming_error()
    {
        Reading reading = Samples.Engraved();
        CardPicture picture = Samples.Picture(reading.Plan) with { HeightPx = 3 };

        Assert.Throws<ArgumentException>(() => CardReport.AnnotatedPng(reading, picture));
        Assert.Throws<ArgumentException>(() => CardReport.OnPage(picture));
    }

    [Fact]
    public void More_pictures_than_photos_are_a_programming_error()
    {
        Reading reading = Samples.Engraved();
        PagePhoto photo = CardReport.OnPage(Samples.Picture(reading.Plan));

        Assert.Throws<ArgumentException>(() => CardReport.Html(new(reading, [photo, photo])));
    }
}
