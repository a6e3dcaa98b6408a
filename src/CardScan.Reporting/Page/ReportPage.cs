using System.Security.Cryptography;
using System.Text;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The page, from top to bottom.</summary>
internal static class ReportPage
{
    public static string Write(ReportInput input)
    {
        Reading reading = input.Reading;
        GridCells grid = new(reading);
        XElement main = new(
            "main",
            TitleSection.Write(reading.Plan),
            RecommendationSection.Write(reading),
            AdviceSection.Write(reading),
            PhotoSection.Write(input),
            GridSection.Write(grid),
            CurveSection.Write(grid),
            ToneSection.Write(grid),
            KerfSection.Write(grid),
            CellTable.Write(reading),
            QualitySection.Write(reading),
            ModelSection.Write(reading),
            CautionSection.Write(reading.Plan));
        return Markup.Write(new(
            "html",
            new XAttribute("lang", "en"),
            Head(reading.Plan),
            new XElement("body", main, Footer(reading))));
    }

    private static XElement Head(Plan plan)
    {
        string style = Style();
        // The one style sheet is named by its hash; nothing else runs, loads or styles.
        string hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)));
        string policy = $"default-src 'none'; img-src data:; style-src 'sha256-{hash}'; base-uri 'none'; form-action 'none'";
        return new(
            "head",
            new XElement("meta", new XAttribute("charset", "utf-8")),
            new XElement("meta", new XAttribute("http-equiv", "Content-Security-Policy"), new XAttribute("content", policy)),
            new XElement("meta", new XAttribute("name", "viewport"), new XAttribute("content", "width=device-width, initial-scale=1")),
            new XElement("meta", new XAttribute("name", "color-scheme"), new XAttribute("content", "light dark")),
            new XElement("title", PlanWords.Title(plan)),
            new XElement("style", style));
    }

    private static string Style()
    {
        using Stream file = typeof(ReportPage).Assembly.GetManifestResourceStream("report.css")
            ?? throw new InvalidOperationException("The style sheet is missing from the assembly.");
        using StreamReader text = new(file);
        // HTML parsers turn CR LF into LF before they hash.
        return text.ReadToEnd().ReplaceLineEndings("\n");
    }

    private static XElement Footer(Reading reading) => new(
        "footer",
        Html.Paragraph(
            $"Made by CardScan from a reading of card {reading.Plan.Number}",
            reading.PlanSha256 is { Length: > 0 } hash ? $", plan SHA-256 {hash}" : "",
            "."));
}
