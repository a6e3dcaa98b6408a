using CardScan.Calibration;

// dotnet run -c Release --project tests/CardScan.Calibration -- [--study NAME] [--cards N] [--seed N] [--only TEXT] [--markdown FILE]
//
// Simulates cards of known law, scores them, and holds what is stated against the law. --study laws (the default) runs
// every law at every size; place asks whether a trend over the card's places is told; chain plans and burns three cards in
// a row; next asks what a planned card teaches; information asks
// the same of the law itself, against the best card that there could be; intervals looks closely at the scoring's own laws and a few more.
// N cards a case (20 where none is said; seed 1). --only keeps the cases whose name holds the text, e.g.
// "engrave, late char, 6x6"; --list prints the names. --bad names the cards that come out badly, and --card N scores one
// of a case; with --save FILE its reading is written. --markdown replaces the study's figures in a page
// (docs/method/calibration.md), between its two marker lines. The same seed gives the same cards, whatever else is run.
if (StudyArguments.Parse(args) is not { } arguments)
{
    string studies = string.Join('|', StudyArguments.Studies);
    Console.Error.WriteLine("Usage: dotnet run -c Release --project tests/CardScan.Calibration -- "
        + $"[--study {studies}] [--list] [--cards N] [--seed N] [--only TEXT] [--bad] [--card N [--save FILE]] [--markdown FILE]");
    return 2;
}

FigureTable[] tables = arguments.Study switch
{
    "place" => [.. PlaceRun.Tables(arguments)],
    "chain" => [.. ChainRun.Tables(arguments)],
    "next" => [.. NextRun.Tables(arguments)],
    "information" => [.. InformationRun.Tables(arguments)],
    "intervals" => [.. IntervalRun.Tables(arguments)],
    _ => [.. LawRun.Tables(arguments)],
};
foreach (FigureTable table in tables) Console.Write(table.ToText());
if (arguments.MarkdownFile is { } file) MarkdownPage.ReplaceFigures(file, arguments, tables);
return 0;
