using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How good the photos were.</summary>
internal static class QualitySection
{
    private static readonly string[] Headings =
    [
        "page.quality.head-photo", "page.quality.head-light", "page.quality.head-size", "page.quality.head-scale", "page.quality.head-tilt",
        "page.quality.head-residual-px", "page.quality.head-residual-mm", "page.quality.head-sharpness", "page.quality.head-noise",
        "page.quality.head-range", "page.quality.head-glare",
    ];

    public static XElement Write(Reading reading)
    {
        string title = Voice.Say("page.quality.title", ("photos", reading.Photos.Count));
        if (reading.Photos.Count == 0) return Html.Section("quality", title, Html.Paragraph(Voice.Say("page.quality.none")));

        bool isOneOfMany = reading.Photos.Count > 1;
        return Html.Section(
            "quality", title,
            Html.Scroller(
                Voice.Say("page.quality.table"), fits: false,
                new XElement(
                    "table",
                    Html.Class("quality"),
                    Html.Head(Headings.Select(key => Voice.Say(key))),
                    new XElement("tbody", reading.Photos.Select(Row)))),
            reading.Photos.Select(photo => Frame(photo, isOneOfMany)),
            ScaleError(reading),
            reading.Photos.Select(photo => Warnings(photo, isOneOfMany, Judgement.Of(reading).Reason)));
    }

    private static XElement Row(PhotoRecord photo) => new(
        "tr",
        Html.Heading("row", photo.File),
        new XElement("td", Voice.Say("page.quality.light", ("light", $"{photo.Light}"))),
        new XElement("td", $"{photo.WidthPx} × {photo.HeightPx}"),
        Cell(photo.PxPerMm, 1),
        Cell(photo.TiltDeg, 1),
        Cell(photo.ReprojectionRmsPx, 2),
        Cell(photo.ReprojectionRmsPx / photo.PxPerMm, 3),
        Pair(photo.Quality?.Mtf50AcrossXPerMm, photo.Quality?.Mtf50AcrossYPerMm, 2),
        Cell(100 * photo.Quality?.Noise, 1),
        Cell(photo.Quality?.LightRange, 1),
        Pair(100 * photo.Quality?.GlareShare, 100 * photo.Quality?.ShadowShare, 1));

    /// <summary>Where the grid lies in the window of a frame sheet, and what the sheet's greys undid.</summary>
    private static XElement? Frame(PhotoRecord photo, bool isOneOfMany)
    {
        if (photo.Frame is not { } frame) return null;
        return Html.Paragraph(Voice.Say("page.quality.frame", [.. File(photo, isOneOfMany), ("found", frame.ToFigure())]));
    }

    private static XElement Cell(double? value, int decimals) =>
        new("td", value is double known ? Numbers.Fixed(known, decimals) : Html.NotMeasured());

    private static XElement Pair(double? first, double? second, int decimals) => new(
        "td", first is double a && second is double b ? $"{Numbers.Fixed(a, decimals)}, {Numbers.Fixed(b, decimals)}" : Html.NotMeasured());

    /// <summary>What the darkness of all cells shares; the errors beside the cells leave it out.</summary>
    private static XElement? ScaleError(Reading reading) =>
        reading.TonePhotos.Max(photo => photo.Quality?.DarknessScaleError) is double error
            ? Html.Paragraph(Voice.Say("page.quality.scale-error", ("error", Share(error)), ("curve", HowKnown(reading.TonePhotos)),
                ("card", $"{reading.TonePhotos.Max(photo => photo.Response?.CardNumber)}")))
            : null;

    private static string HowKnown(IEnumerable<PhotoRecord> photos)
    {
        string?[] sources = [.. photos.Where(photo => photo.Light == Light.Front).Select(photo => photo.Response?.Source).Distinct()];
        if (sources.Contains(null)) return "unknown";
        if (sources.Contains(PhotoResponse.Phone)) return "expected";
        return sources.Contains(PhotoResponse.Card) ? "card" : sources is [PhotoResponse.Raw] ? "raw" : "known";
    }

    /// <summary>The head of the page has said one of them.</summary>
    private static XElement? Warnings(PhotoRecord photo, bool isOneOfMany, Warning? said)
    {
        if (photo.Warnings.Count == 0) return Html.Paragraph(Voice.Say("page.quality.no-warnings", File(photo, isOneOfMany)));
        Warning[] others = [.. Judgement.Sorted(photo.Warnings).Where(warning => !ReferenceEquals(warning, said))];
        return others.Length == 0 ? null : new("ul", Html.Class("warnings"), others.Select(warning => new XElement(
            "li",
            new XElement("strong", Voice.Say("page.quality.warning")), " ",
            isOneOfMany ? Voice.Say("page.quality.of-photo", ("file", photo.File), ("message", warning.Message)) : warning.Message)));
    }

    /// <summary>The photo's name where there are several.</summary>
    private static (string, Figure)[] File(PhotoRecord photo, bool isOneOfMany) => isOneOfMany ? [("file", photo.File)] : [];
}
