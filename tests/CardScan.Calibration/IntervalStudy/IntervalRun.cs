namespace CardScan.Calibration;

/// <summary>A run of the interval study as the command line asks for it.</summary>
internal static class IntervalRun
{
    public static IEnumerable<FigureTable> Tables(StudyArguments arguments)
    {
        StudyCase[] cases = [.. Study.Undisturbed.Concat(Study.Disturbed).Where(study => study.Name.Contains(arguments.Only))];
        if (arguments.IsList)
        {
            foreach (StudyCase study in cases) Console.WriteLine(study.Name);
            return [];
        }

        Progress progress = new(cases.Length);
        List<(StudyCase, CardResult[])> results = [];
        foreach (StudyCase study in cases)
        {
            progress.Begins(study.Name);
            results.Add((study, Study.Run(study, arguments.Cards, arguments.Seed)));
        }

        progress.Ends(arguments.Cards);
        return StudyReport.Tables(results);
    }
}
