using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Workflow;

/// <summary>The files that a reading leaves in a folder.</summary>
internal static class ReportFiles
{
    /// <summary>Renders everything, then writes it.</summary>
    /// <returns>Paths, the page first.</returns>
    public static ValueList<string> Write(Reading reading, ValueList<CardPicture> pictures, string folder)
    {
        List<(string Name, byte[] Bytes)> annotated = [.. pictures.Select((picture, i) =>
            (i == 0 ? "annotated.png" : $"annotated-{i + 1}.png", CardReport.AnnotatedPng(reading, picture)))];
        string page = CardReport.Html(new ReportInput(reading, pictures));
        string cells = CardReport.Csv(reading);

        OutputFolder output = new(folder);
        return
        [
            output.Write("report.html", page),
            .. annotated.Select(picture => output.Write(picture.Name, picture.Bytes)),
            output.Write("reading.json", CardJson.Write(reading)),
            output.Write("cells.csv", cells),
        ];
    }
}
