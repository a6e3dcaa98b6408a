using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Workflow;

/// <summary>The files that a reading leaves in a folder. They replace an earlier report there, and nobody else's files.</summary>
internal static class ReportFiles
{
    private const string Page = "report.html", Picture = "annotated.png", Reading = "reading.json", Table = "cells.csv";

    /// <summary>What speaks against a report in a folder, or null; asked before the work, so that it is not done in vain.</summary>
    internal static Refusal? FirstObstacle(string folder)
    {
        if (string.IsNullOrWhiteSpace(folder)) return Refusal.OfInput("out-empty", "the name of the folder is empty", "give a folder with --out");
        if (File.Exists(folder)) return Refusal.OfInput("out-is-file", $"{folder} is a file", "give a folder with --out");
        string? found = new[] { Page, Picture, Reading, Table }.FirstOrDefault(name => Path.Exists(Path.Combine(folder, name)));
        return found is null || HoldsReport(folder)
            ? null
            : Refusal.OfInput("out-foreign", $"{Path.Combine(folder, found)} is there already and is of no report that CardScan wrote", "give another folder with --out, or move the file away");
    }

    /// <summary>Renders everything, then writes it.</summary>
    /// <returns>Paths, the page first; or why nothing was written.</returns>
    internal static Outcome<ValueList<string>> Write(Reading reading, ValueList<CardPicture> pictures, string folder)
    {
        if (FirstObstacle(folder) is { } obstacle) return obstacle;
        NewFile[] files =
        [
            NewFile.OfText(Page, CardReport.Html(new ReportInput(reading, pictures))),
            .. pictures.Select((picture, i) => new NewFile(PictureName(i), CardReport.AnnotatedPng(reading, picture))),
            NewFile.OfText(Reading, CardJson.Write(reading)),
            NewFile.OfText(Table, CardReport.Csv(reading)),
        ];
        Outcome<ValueList<string>> written = OutputFolder.Write(folder, files);
        // A reading scored again has no photos at hand; the pictures that lie there are still its own.
        if (!written.IsRefused && pictures.Count > 0) DeletePicturesFrom(pictures.Count, folder);
        return written;
    }

    private static string PictureName(int index) => index == 0 ? Picture : $"annotated-{index + 1}.png";

    private static bool HoldsReport(string folder)
    {
        Outcome<Reading> reading = InputFile.ReadReading(Path.Combine(folder, Reading));
        return !reading.IsRefused;
    }

    /// <summary>An earlier report may have had more photos; what is left of them would pass for this one's.</summary>
    private static void DeletePicturesFrom(int first, string folder)
    {
        try
        {
            for (int i = first; File.Exists(Path.Combine(folder, PictureName(i))); i++) File.Delete(Path.Combine(folder, PictureName(i)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The report itself is whole.
        }
    }
}
