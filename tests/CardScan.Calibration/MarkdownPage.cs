namespace CardScan.Calibration;

/// <summary>A page of which the part between two marker lines is a study's.</summary>
internal static class MarkdownPage
{
    private const string End = "<!-- end of figures -->";

    /// <summary>Where a reader finds the page, wherever this run writes it.</summary>
    private const string Place = "docs/method/calibration.md";

    public static void ReplaceFigures(string file, StudyArguments arguments, IEnumerable<FigureTable> tables)
    {
        string page = File.ReadAllText(file),
            begin = $"<!-- figures: written by tests/CardScan.Calibration --study {arguments.Study} --markdown -->";
        int from = page.IndexOf(begin, StringComparison.Ordinal), to = from < 0 ? -1 : page.IndexOf(End, from, StringComparison.Ordinal);
        if (to < 0) throw new InvalidDataException($"{file} lacks the lines {begin} and {End}.");

        string use = arguments.Seed < StudyArguments.FirstJudgingSeed
            ? "a seed for tuning"
            : "a seed for judging, by which nothing was tuned";
        string command =
            $"{arguments.Cards} cards a case, seed {arguments.Seed} ({use}):\n\n```\n{arguments.Command} --markdown {Place}\n```\n\n";
        string figures = command + string.Concat(tables.Select(table => table.ToMarkdown()));
        File.WriteAllText(file, $"{page[..(from + begin.Length)]}\n\n{figures}{page[to..]}");
    }
}
