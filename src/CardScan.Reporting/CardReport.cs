using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Turns a reading into what people look at: a page, an annotated picture, a table.</summary>
/// <remarks>The same input gives the same bytes; nothing is read from outside and nothing is written.</remarks>
public static class CardReport
{
    /// <summary>Stands in the page of histories, so that it is known again.</summary>
    private const string HistoryGenerator = "cardscan history";

    /// <summary>The page: one self-contained HTML text that opens offline, without scripts and without anything fetched.</summary>
    /// <param name="input">The reading, and the rectified photos where there are any.</param>
    /// <returns>The text of <c>report.html</c>, to be stored as UTF-8.</returns>
    /// <exception cref="ArgumentException">There are more pictures than photos.</exception>
    public static string Html(ReportInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (input.Pictures.Count > input.Reading.Photos.Count)
            throw new ArgumentException($"{input.Pictures.Count} pictures for {input.Reading.Photos.Count} photos.", nameof(input));
        return ReportPage.Write(input);
    }

    /// <summary>A rectified photo as pages hold it, reduced where it is larger than they need; no reading changes it.</summary>
    /// <param name="picture">The rectified photo.</param>
    /// <exception cref="ArgumentException">The picture's bytes do not fill it.</exception>
    public static PagePhoto OnPage(CardPicture picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        CheckSize(picture, nameof(picture));
        return new(
            Pixels.Jpeg(picture), -picture.MarginMm, -picture.MarginMm,
            picture.WidthPx / picture.PxPerMm, picture.HeightPx / picture.PxPerMm);
    }

    /// <summary>The page of a comparison: self-contained as <see cref="Html"/>.</summary>
    /// <param name="input">The comparison, its readings, and their annotated pictures where there are any.</param>
    /// <returns>The text of <c>comparison.html</c>, to be stored as UTF-8.</returns>
    /// <exception cref="ArgumentException">There are not as many readings as batches.</exception>
    public static string ComparisonHtml(ComparisonInput input)
    {
        CheckReadings(input);
        return ComparisonPage.Write(input);
    }

    /// <summary>The parts of that page, from top to bottom, for another page to hold.</summary>
    /// <param name="input">As for <see cref="ComparisonHtml"/>.</param>
    /// <exception cref="ArgumentException">There are not as many readings as batches.</exception>
    public static IEnumerable<XElement> ComparisonParts(ComparisonInput input)
    {
        CheckReadings(input);
        return ComparisonPage.Parts(input);
    }

    /// <summary>
    /// The rectified photo with every cell outlined and labelled with its settings and darkness (engraved) or state
    /// (cut), the recommended cells marked, a heading above and a key below.
    /// </summary>
    /// <param name="reading">The reading.</param>
    /// <param name="picture">The rectified photo.</param>
    /// <param name="photoIndex">Which of the reading's photos it is, from 0.</param>
    /// <returns>
    /// A PNG file; the photo in it is enlarged by a whole factor where small text needs it. It holds the card, its
    /// settings, the recommendations and the photo's fingerprint as texts too (docs/archive.md, "Annotated pictures").
    /// </returns>
    /// <exception cref="ArgumentException">The picture's bytes do not fill it.</exception>
    public static byte[] AnnotatedPng(Reading reading, CardPicture picture, int photoIndex = 0)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(picture);
        CheckSize(picture, nameof(picture));
        ArgumentOutOfRangeException.ThrowIfNegative(photoIndex);
        return PngText.Add(AnnotatedSheet.Png(reading, picture), PngMetadata.Of(reading, photoIndex));
    }

    /// <summary>The cells as comma-separated values (RFC 4180): units in the header, all digits, empty where not measured.</summary>
    /// <param name="reading">The reading.</param>
    /// <returns>The text of <c>cells.csv</c>, lines ending in CR LF.</returns>
    public static string Csv(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return CellsCsv.Write(reading);
    }

    /// <summary>The cells of many readings in one table, as <see cref="Csv"/> has those of one; in front, which reading it is.</summary>
    /// <param name="readings">The readings; read one after the other, so that there may be any number.</param>
    /// <param name="text">Where the table goes; nothing where there is no reading.</param>
    public static void WriteCsv(IEnumerable<NamedReading> readings, TextWriter text)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(text);
        CellsCsv.Write(text, readings);
    }

    /// <summary>The colours of a card's drawing with what each is burned with, as comma-separated values (RFC 4180).</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="steps">What is burned, sorted by setting.</param>
    /// <returns>The text of <c>settings.csv</c>, lines ending in CR LF.</returns>
    public static string SettingsCsv(Plan plan, ValueList<BurnStep> steps)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(steps);
        return StepsCsv.Write(plan, steps);
    }

    /// <summary>The same as a page to print: self-contained as <see cref="Html"/>.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="steps">What is burned, sorted by setting.</param>
    /// <param name="cautions">What whoever burns the card must have read, one sentence each.</param>
    /// <returns>The text of <c>settings.html</c>, to be stored as UTF-8.</returns>
    public static string SettingsHtml(Plan plan, ValueList<BurnStep> steps, ValueList<string> cautions)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(steps);
        ArgumentNullException.ThrowIfNull(cautions);
        return StepsPage.Write(plan, steps, cautions);
    }

    /// <summary>The settings of the archive as comma-separated values (RFC 4180).</summary>
    /// <param name="settings">The settings.</param>
    /// <returns>The text, lines ending in CR LF.</returns>
    public static string SettingsCsv(ValueList<KeptSetting> settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return BookCsv.Write(settings);
    }

    /// <summary>The settings of the archive as a sheet to hang up beside the machine: what is sure enough, with the cautions.</summary>
    /// <param name="settings">Settings; at least one is sure. The others are named and left out.</param>
    /// <param name="day">The day that it is made on.</param>
    /// <param name="paper">The paper.</param>
    /// <returns>A PDF of as many pages as it takes.</returns>
    /// <exception cref="ArgumentException">None of the settings is sure.</exception>
    public static byte[] SettingsPdf(ValueList<KeptSetting> settings, DateOnly day, Paper paper)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return settings.Any(setting => setting.IsSetting)
            ? WallSheet.Pdf(settings, day, paper)
            : throw new ArgumentException("No setting is sure.", nameof(settings));
    }

    /// <summary>True for a sheet that <see cref="SettingsPdf"/> made: a newer one may take its place.</summary>
    /// <param name="file">The bytes of any file.</param>
    public static bool IsSettingsPdf(ReadOnlySpan<byte> file) => WallSheet.IsOne(file);

    /// <summary>How machines changed over their cards, as a page: self-contained as <see cref="Html"/>.</summary>
    /// <param name="machines">Their histories.</param>
    /// <returns>The text, to be stored as UTF-8.</returns>
    public static string HistoryHtml(ValueList<HistoryInput> machines)
    {
        string title = Voice.Say("history.page.title");
        XElement main = new("main", new XElement("header", new XElement("h1", title)), HistoryParts(machines));
        XElement footer = new("footer", CardScan.Reporting.Html.Paragraph(Voice.Say("history.page.footer")));
        return PageShell.Write(title, main, footer, HistoryGenerator);
    }

    /// <summary>True for a page that <see cref="HistoryHtml"/> made: a newer one may take its place.</summary>
    /// <param name="file">The bytes of any file.</param>
    public static bool IsHistoryHtml(ReadOnlySpan<byte> file) => PageShell.IsBy(HistoryGenerator, file);

    /// <summary>The parts of that page, one a machine and process, for another page to hold.</summary>
    /// <param name="machines">Their histories.</param>
    public static IEnumerable<XElement> HistoryParts(ValueList<HistoryInput> machines)
    {
        ArgumentNullException.ThrowIfNull(machines);
        return machines.Select(HistorySection.Write);
    }

    /// <summary>The style sheet of the pages.</summary>
    /// <returns>Its text, lines ending in LF.</returns>
    public static string StyleSheet() => PageShell.Style();

    /// <summary>The rectified photos that a page written by <see cref="Html"/> holds.</summary>
    /// <param name="page">The page's bytes; it may come from anybody.</param>
    /// <returns>The pictures in the order of the reading's photos; none where it is no such page.</returns>
    public static ValueList<PagePhoto> PhotosOf(ReadOnlyMemory<byte> page) => PagePhotos.Read(page);

    private static void CheckReadings(ComparisonInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (input.Readings.Count != input.Comparison.Batches.Count)
            throw new ArgumentException($"{input.Readings.Count} readings for {input.Comparison.Batches.Count} batches.", nameof(input));
    }

    private static void CheckSize(CardPicture picture, string parameter)
    {
        bool fits = picture is { WidthPx: > 0, HeightPx: > 0, PxPerMm: > 0, MarginMm: >= 0 }
            && double.IsFinite(picture.PxPerMm) && double.IsFinite(picture.MarginMm)
            && picture.Rgba.Length == 4L * picture.WidthPx * picture.HeightPx;
        if (fits) return;
        throw new ArgumentException(
            $"{picture.Rgba.Length} bytes do not make a picture of {picture.WidthPx} × {picture.HeightPx} px.", parameter);
    }
}
