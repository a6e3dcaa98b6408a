using System.Diagnostics;
using CardScan.Calibration;

// dotnet run -c Release --project tests/CardScan.Calibration -- [--cards N] [--seed N] [--only TEXT] [--markdown FILE]
//
// Scores N simulated cards a case (100 where none is said; seed 1) and holds every stated interval, probability and
// setting against the known law. --only keeps the cases whose name holds the text, e.g. "engrave, saturating, 6x6";
// --list prints the names. --markdown replaces the figures of a page (docs/method/calibration.md), between its two
// marker lines. The same seed gives the same cards, whatever else is run.
if (StudyArguments.Parse(args) is not { } arguments)
{
    Console.Error.WriteLine("Usage: dotnet run -c Release --project tests/CardScan.Calibration -- [--list] [--cards N] [--seed N] [--only TEXT] [--markdown FILE]");
    return 2;
}

StudyCase[] cases = [.. Study.Undisturbed.Concat(Study.Disturbed).Where(study => study.Name.Contains(arguments.Only))];
if (arguments.IsList)
{
    foreach (StudyCase study in cases) Console.WriteLine(study.Name);
    return 0;
}

long start = Stopwatch.GetTimestamp();
List<(StudyCase, CardResult[])> results = [];
foreach ((int done, StudyCase study) in cases.Index())
{
    Console.Error.Write($"\r{done + 1,4} of {cases.Length}  {study.Name,-70}");
    results.Add((study, Study.Run(study, arguments.Cards, arguments.Seed)));
}

Console.Error.WriteLine($"\r{cases.Length} cases of {arguments.Cards} cards in {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s{new string(' ', 60)}");
FigureTable[] tables = [.. StudyReport.Tables(results)];
foreach (FigureTable table in tables) Console.Write(table.ToText());
if (arguments.MarkdownFile is { } file) MarkdownPage.ReplaceFigures(file, arguments, tables);
return 0;
