namespace CardScan.Calibration;

/// <summary>A page of which the part between two marker lines is the study's.</summary>
internal static class MarkdownPage
{
    private const string Begin = "<!-- figures: written by tests/CardScan.Calibration --markdown -->", End = "<!-- end of figures -->";

    /// <summary>Where a reader finds the page, wherever this run writes it.</summary>
    private const string Place = "docs/method/calibration.md";

    public static void ReplaceFigures(string file, StudyArguments arguments, IEnumerable<FigureTable> tables)
    {
        string page = File.ReadAllText(file);
        int from = page.IndexOf(Begin, StringComparison.Ordinal), to = page.IndexOf(End, StringComparison.Ordinal);
        if (from < 0 || to < from) throw new InvalidDataException($"{file} lacks the lines {Begin} and {End}.");

        string figures = $"{arguments.Cards} cards a case, seed {arguments.Seed}:\n\n```\n{arguments.Command} --markdown {Place}\n```\n\n{string.Concat(tables.Select(table => table.ToMarkdown()))}";
        File.WriteAllText(file, $"{page[..(from + Begin.Length)]}\n\n{figures}{page[to..]}");
    }
}
