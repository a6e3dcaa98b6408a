using System.Text;
using System.Text.RegularExpressions;
using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>
/// The files that a reading leaves in a folder. They replace an earlier report of the same card there and nothing else, and
/// never stand beside the plan of another.
/// </summary>
/// <param name="reading">The reading.</param>
/// <param name="page">The page, UTF-8.</param>
internal sealed partial class ReportFiles(Reading reading, byte[] page)
{
    private const string PageName = "report.html", PictureStart = "annotated.png", ReadingName = "reading.json";

    private const string TableName = "cells.csv", PlanName = "plan.json";

    /// <summary>The page, UTF-8.</summary>
    internal byte[] Page => page;

    /// <summary>
    /// The annotated pictures, PNG, in the order of the photos; none leaves those in the folder alone that mark the same settings.
    /// </summary>
    internal ValueList<byte[]> Pictures { get; init; } = [];

    /// <summary>Renders the page.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="photos">The rectified photos, as many as are at hand.</param>
    internal static ReportFiles Render(Reading reading, ValueList<PagePhoto> photos) =>
        new(reading, Encoding.UTF8.GetBytes(CardReport.Html(new ReportInput(reading, photos))));

    /// <summary>The same with annotated pictures.</summary>
    internal ReportFiles With(ValueList<byte[]> pictures) => new(reading, page) { Pictures = pictures };

    /// <summary>
    /// What speaks against the report of a card in a folder, or null; asked before the work, so that it is not done in
    /// vain.
    /// </summary>
    /// <param name="folder">The folder.</param>
    /// <param name="plan">The card's plan.</param>
    /// <param name="planSha256">Fingerprint of the plan's file, where it is known.</param>
    internal static Refusal? FirstObstacle(string folder, Plan plan, string? planSha256)
    {
        if (OutputFolder.NameFault(folder) is { } fault) return fault;
        if (!Directory.Exists(folder)) return null;
        if (ForeignPlan(folder, plan, planSha256) is { } foreign) return foreign;
        string[] taken =
        [
            .. Directory.EnumerateFileSystemEntries(folder)
                .Where(path => ReportName().IsMatch(Path.GetFileName(path))).Order(StringComparer.Ordinal),
        ];
        if (taken.Length == 0) return null;
        if (taken.FirstOrDefault(Directory.Exists) is { } blocked)
            return Refusal.OfInput(Codes.OutForeign, ("kind", "folder"), ("path", blocked));

        Outcome<Reading> old = InputFile.ReadReading(Path.Combine(folder, ReadingName));
        if (old.IsRefused) return Refusal.OfInput(Codes.OutForeign, ("path", taken[0]));
        return IsOfCard(old.Value, plan, planSha256) ? null : Exists("report", folder, old.Value.Plan, plan);
    }

    /// <summary>Writes the files.</summary>
    /// <param name="folder">The folder.</param>
    /// <returns>Paths, the page first; or why nothing was written.</returns>
    internal Outcome<ValueList<string>> Write(string folder)
    {
        if (FirstObstacle(folder, reading.Plan, reading.PlanSha256) is { } obstacle) return obstacle;
        NewFile[] files =
        [
            new(PageName, page),
            .. Pictures.Select((picture, i) => new NewFile(PictureName(i), picture)),
            NewFile.OfText(ReadingName, CardJson.Write(reading)),
            NewFile.OfText(TableName, CardReport.Csv(reading)),
        ];
        return OutputFolder.Write(folder, files, Pictures.Count == 0 && MarksTheSame(folder) ? [] : PicturesFrom(Pictures.Count, folder));
    }

    /// <summary>True where the pictures of the report that is there mark what this reading does.</summary>
    private bool MarksTheSame(string folder) =>
        InputFile.ReadReading(Path.Combine(folder, ReadingName)) is { IsRefused: false } old
        && old.Value.Recommendations.Select(Marked).SequenceEqual(reading.Recommendations.Select(Marked))
        && old.Value.Cells.Select(cell => cell.Flags).SequenceEqual(reading.Cells.Select(cell => cell.Flags));

    private static (string, CellAddress?, double, double) Marked(Recommendation recommendation) =>
        (recommendation.Goal, recommendation.OwnCell, recommendation.SpeedMmPerMin, recommendation.PowerPercent);

    private static string PictureName(int index) => index == 0 ? PictureStart : $"annotated-{index + 1}.png";

    /// <summary>Pictures of an earlier report, of more photos or of other settings, would pass for this one's.</summary>
    private static IEnumerable<string> PicturesFrom(int first, string folder) =>
        Enumerable.Range(first, 1000).Select(PictureName).TakeWhile(name => File.Exists(Path.Combine(folder, name)));

    /// <summary>A report beside the plan of another card would pass for that card's.</summary>
    private static Refusal? ForeignPlan(string folder, Plan plan, string? planSha256)
    {
        string path = Path.Combine(folder, PlanName);
        if (!File.Exists(path) || InputFile.ReadBytes(path, "plan") is not { IsRefused: false } bytes) return null;
        if (CardJson.ReadPlan(bytes.Value) is not { IsRefused: false } there) return null;
        bool isSame = there.Value.Plan == plan || string.Equals(there.Value.Sha256, planSha256, StringComparison.OrdinalIgnoreCase);
        return isSame ? null : Exists("plan", folder, there.Value.Plan, plan);
    }

    /// <summary>Fingerprints tell plans apart; where one is missing the plans themselves do.</summary>
    private static bool IsOfCard(Reading old, Plan plan, string? planSha256) =>
        old.Plan.Number == plan.Number
        && (old.PlanSha256 is { } known && planSha256 is { } given
            ? string.Equals(known, given, StringComparison.OrdinalIgnoreCase)
            : old.Plan == plan);

    private static Refusal Exists(string what, string folder, Plan old, Plan plan)
    {
        List<(string, Figure)> values = [("what", what), ("folder", folder), ("card", old.Number), ("same", Is(old.Number == plan.Number))];
        if (!string.IsNullOrEmpty(old.Title)) values.Add(("title", old.Title));
        return Refusal.OfInput(Codes.ReportExists, values);
    }

    [GeneratedRegex(
        @"^(report\.html|annotated(-[0-9]+)?\.png|reading\.json|cells\.csv)$",
        RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant, 1000)]
    private static partial Regex ReportName();
}
