using System.CommandLine;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan compare</c>: what a batch needs over another.</summary>
internal static class CompareCommand
{
    private const string DefaultFolder = "comparison";

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string[]> readings = new("reading") { Description = "Readings (reading.json), folders of reports, or names in the archive (r12, c5, a card's number, a batch); the first is the reference", Arity = ArgumentArity.OneOrMore };
        Option<string[]> repeats = new("--repeats", "-r") { Description = "Readings of one and the same engraved card from photos of their own, or that card's name in the archive: how well the measuring repeats itself, the floor of every interval", HelpName = "reading", AllowMultipleArgumentsPerToken = true, Arity = ArgumentArity.OneOrMore };
        Option<double?> margin = NumberOption.Create("--margin", "Difference of energy that counts as none, percent (default 5)", percent => percent is > 0 and <= 100, "a percentage above 0, at most 100");
        Option<string> output = new("--out", "-o") { Description = $"Folder for the page and comparison.json (default {DefaultFolder})", HelpName = "folder" };
        Option<bool> json = new("--json") { Description = "Print comparison.json alone; write files only if --out is given" };

        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("compare", "Compare batches: how much more energy the new one needs, and what to change", """
            Every reading is held against the first. Cards of the same settings are compared cell by cell as well;
            cards of other settings through their curves. Three or more give a chart with control limits. A card or batch
            of the archive stands for its newest reading.

            Examples:
              cardscan compare card-17 card-19
              cardscan compare B-0412 B-0597
              cardscan compare card-17/reading.json card-19/reading.json --margin 8 --out birch-deliveries

            Exit codes: 0 done; 2 the command line or a file is wrong; 1 anything else.
            """)
        {
            readings, repeats, margin, output, json,
        };
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            ArchivePlace? place = archive.From(parsed);
            bool isJson = parsed.GetValue(json);
            Outcome<ValueList<LoadedReading>> loaded = ReadingSource.Load(parsed.GetValue(readings)!.ToValueList(), place);
            if (loaded.IsRefused) return terminal.Refuse(loaded.Refusal!);
            Outcome<ValueList<LoadedReading>> again = ReadingSource.LoadRepeats((parsed.GetValue(repeats) ?? []).ToValueList(), place);
            if (again.IsRefused) return terminal.Refuse(again.Refusal!);

            CompareRequest request = CompareRequest.Of(loaded.Value, again.Value, parsed.GetValue(margin) / 100) with
            {
                OutputFolder = parsed.GetValue(output) ?? (isJson ? null : DefaultFolder),
            };
            Outcome<CompareResult> result = terminal.Working("comparing", _ => CompareCards.Run(request));
            return result.IsRefused ? terminal.Refuse(result.Refusal!) : ComparisonSummary.Print(terminal, result.Value, isJson);
        });
        return command;
    }
}
