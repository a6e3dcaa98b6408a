using System.Diagnostics;
using System.Globalization;
using CardScan.Robustness;

// dotnet run -c Release --project tests/CardScan.Robustness --
//     [--photos N] [--seed N] [--first N] [--only N,N,...] [--markdown FILE] [--list FILE] [--keep FOLDER]
//
// Makes photos of test cards of known truth, disturbed in many ways at once, reads them as a user would, and counts useful
// readings, refusals and what is silently wrong. --keep leaves photos and plans in a folder and takes them from there next
// time; --only takes single photos of the seed, and --list writes a line on each. Exit 0: nothing is silently wrong inside
// the working range; 1: something is; 2: wrong command line.
//
// dotnet run -c Release --project tests/CardScan.Robustness -- small-cards [PLACES]
//
// How small markers, gaps and cells may be: the table of docs/method/small-cards.md.
if (args is ["small-cards", .. string[] places])
{
    SmallCardStudy.Run(Console.Out, places is [string some] ? [.. some.Split(',').Select(int.Parse)] : null);
    return 0;
}

// dotnet run -c Release --project tests/CardScan.Robustness -- play FIRST PHOTOS PX-PER-MM PLAY-X PLAY-Y BOW LATE-MS
//
// Cards burned stroke by stroke by machines with and without play: what is told of it, a line for each photo.
if (args is ["play", .. { Length: 7 } figures])
{
    PlayStudy.Run(Console.Out, [.. figures.Select(figure => double.Parse(figure, CultureInfo.InvariantCulture))]);
    return 0;
}

if (RunArguments.Parse(args) is not { } arguments)
{
    Console.Error.WriteLine(
        "Usage: dotnet run -c Release --project tests/CardScan.Robustness -- "
            + "[--photos N] [--seed N] [--first N] [--only N,N,...] [--markdown FILE] [--list FILE] [--keep FOLDER]");
    return 2;
}

long start = Stopwatch.GetTimestamp();
Verdict[] verdicts = Campaign.Run(arguments, done =>
{
    if (done % 10 == 0 || done == arguments.Numbers.Length)
        Console.Error.Write($"\r{done} of {arguments.Numbers.Length} photos, {Stopwatch.GetElapsedTime(start).TotalSeconds:F0} s ");
});
Console.Error.WriteLine();
foreach (Verdict wrong in verdicts.Where(verdict => verdict.Outcome == Outcome.SilentlyWrong))
    Console.WriteLine(
        $"{wrong.Recipe.Number}{(wrong.Recipe.IsInRange ? "" : " (out of range)")} {wrong.Code}: {wrong.Message}\n    {wrong.Recipe}");
Console.Write(RobustnessPage.Summary(verdicts));
if (arguments.Markdown is { } page) File.WriteAllText(page, RobustnessPage.Render(arguments, verdicts));
if (arguments.List is { } list) File.WriteAllLines(list, verdicts.Select(RobustnessPage.Line));
return verdicts.Any(verdict => verdict is { Outcome: Outcome.SilentlyWrong, Recipe.IsInRange: true }) ? 1 : 0;
