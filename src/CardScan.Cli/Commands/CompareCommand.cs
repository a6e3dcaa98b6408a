using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan compare</c>: what a batch needs over another.</summary>
internal static class CompareCommand
{
    private const string DefaultFolder = "comparison";

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string[]> readings = new("reading")
        {
            HelpName = OptionText.Placeholder("reading"),
            Description = Voice.Say("option.readings.compare"), Arity = ArgumentArity.OneOrMore,
        };
        Option<string[]> plan = new("--plan", "-p")
        {
            Description = Voice.Say("option.plan.compare"), HelpName = OptionText.Placeholder("file"), Arity = ArgumentArity.ZeroOrMore,
        };
        Option<string[]> repeats = new("--repeats", "-r")
        {
            Description = Voice.Say("option.repeats"), HelpName = OptionText.Placeholder("reading"),
            AllowMultipleArgumentsPerToken = true, Arity = ArgumentArity.OneOrMore,
        };
        Option<double?> margin = NumberOption.Create("--margin", NumberRange.Positive(100, Unit.Percent));
        Option<string> output = new("--out", "-o")
        {
            Description = Voice.Say("option.out.comparison", ("folder", DefaultFolder)), HelpName = OptionText.Placeholder("folder"),
        };
        Option<bool> json = OptionText.Json("comparison");
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("compare",
            "cardscan compare photo-of-both.jpg",
            "cardscan compare card-17 card-19",
            "cardscan compare B-0412 B-0597",
            "cardscan compare card-17/reading.json card-19/reading.json --margin 8 --out birch-deliveries")
        {
            readings, plan, repeats, margin, output, json,
        };
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            ArchivePlace? place = archive.From(parsed);
            bool isJson = parsed.GetValue(json);
            ValueList<string> given = Named(parsed.GetValue(readings));
            ReadRequest photos = new()
            {
                Photos = given.Where(PhotoPaths.IsPicture).ToValueList(), Plans = Named(parsed.GetValue(plan)), Archive = place,
            };
            Outcome<ReadCardsResult> read = photos.Photos.Count == 0
                ? new ReadCardsResult([], [])
                : terminal.Counting(progress => ReadCards.Run(photos, progress));
            if (read.IsRefused) return terminal.Refuse(read.Refusal!);
            IEnumerable<Refusal> refusals =
                [.. read.Value.Refused.Select(photo => photo.Refusal), .. read.Value.Cards.SelectMany(RefusedOf)];
            int worst = refusals.Select(terminal.Refuse).DefaultIfEmpty(ExitCode.Done).Max();
            Outcome<ValueList<LoadedReading>> loaded = ReadingSource.Load(
                given.Where(name => !PhotoPaths.IsPicture(name)).ToValueList(), place,
                read.Value.Cards.Select(card => card.Reading).Where(reading => !reading.Plan.IsPrinted));
            if (loaded.IsRefused) return terminal.Refuse(loaded.Refusal!);
            Outcome<ValueList<LoadedReading>> again = ReadingSource.LoadRepeats(Named(parsed.GetValue(repeats)), place);
            if (again.IsRefused) return terminal.Refuse(again.Refusal!);

            string? folder = parsed.GetValue(output) ?? (isJson ? null : DefaultFolder);
            CompareRequest request = CompareRequest.Of(loaded.Value, again.Value, parsed.GetValue(margin) / 100) with
            {
                OutputFolder = folder is null ? null : surroundings.At(folder),
            };
            Outcome<CompareResult> result = terminal.Working(Voice.Say("terminal.comparing"), () => CompareCards.Run(request));
            if (result.IsRefused) return terminal.Refuse(result.Refusal!);
            return Math.Max(worst, ComparisonSummary.Print(terminal, result.Value, isJson));
        });
        return command;

        // One card may be read, and another photo of it be of no use.
        static IEnumerable<Refusal> RefusedOf(ReadResult card) =>
            card.Refused.Select(photo => photo.Refusal.In(Voice.Say("terminal.left-out", ("photo", photo.Name))));

        ValueList<string> Named(string[]? names) => (names ?? []).Select(surroundings.Found).ToValueList();
    }
}
