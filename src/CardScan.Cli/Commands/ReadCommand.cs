using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan read</c>: photos of a card to measurements and settings.</summary>
internal static class ReadCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string[]> photos = new("photo")
        {
            HelpName = OptionText.Placeholder("photo"),
            Description = Voice.Say("option.photos"),
            Arity = ArgumentArity.OneOrMore
        };
        Option<string[]> plan = new("--plan", "-p")
        {
            Description = Voice.Say("option.plan"), HelpName = OptionText.Placeholder("file"), Arity = ArgumentArity.ZeroOrMore,
        };
        Option<double?> card = NumberOption.Create("--card", NumberRange.OfOption("--number"), new("option.card.read"));
        Option<string> output = new("--out", "-o")
        {
            Description = Voice.Say("option.out.read"), HelpName = OptionText.Placeholder("folder"),
        };
        Option<bool> json = OptionText.Json("read");
        Option<string> light = new("--light") { Description = Voice.Say("option.light"), HelpName = "front|back" };
        light.AcceptOnlyFromAmong("front", "back");
        Option<bool> alone = CompanyInput.Alone();
        Option<bool> plain = new("--plain-tones") { Description = Voice.Say("option.plain-tones") };
        Option<bool> queue = new("--queue") { Description = Voice.Say("option.queue") };
        ScoringInput scoring = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("read",
            "cardscan read photo.jpg",
            "cardscan read photo.jpg --plan card-17/plan.json",
            "cardscan read left.jpg right.jpg room-light.jpg --plan card-18/plan.json --out birch-cut",
            "cardscan read photo.jpg left.jpg right.jpg --plan card-17/plan.json --plan card-18/plan.json",
            "cardscan read photo.jpg --card 17")
        {
            photos, plan, card, output, json, light, plain, alone, queue,
        };
        scoring.AddTo(command);
        archive.AddTo(command, mayBeLeftOut: true);
        archive.IsNeededFor(queue, command);
        command.Validators.Add(result =>
        {
            if (result.GetValue(queue) && result.GetResult(output) is not null)
                result.AddError(Voice.Say("option.both", ("first", queue.Name), ("second", output.Name)));
        });
        command.SetAction(parsed =>
        {
            bool isJson = parsed.GetValue(json);
            string? folder = parsed.GetValue(output) ?? (isJson ? null : ReadRequest.FolderOfCard);
            using PipedPhoto piped = new(surroundings.Piped);
            Outcome<string[]> given = piped.InPlace(parsed.GetValue(photos)!);
            if (given.IsRefused) return terminal.Refuse(given.Refusal!);
            Outcome<NamedPhotos> named = PhotoPaths.Of(given.Value.Select(surroundings.Found));
            if (named.IsRefused) return terminal.Refuse(named.Refusal!);
            if (named.Value.PassedOver is { Count: > 0 } own)
                terminal.Note(Voice.Say("terminal.passed-over", ("names", List(own.Select(path => Path.GetFileName(path))))));
            ReadRequest request = new()
            {
                Photos = named.Value.Paths,
                Plans = (parsed.GetValue(plan) ?? []).Select(surroundings.Found).ToValueList(),
                Card = (int?)parsed.GetValue(card),
                Archive = archive.From(parsed),
                IsAlone = parsed.GetValue(alone),
                HasPlainTones = parsed.GetValue(plain),
                OutputFolder = folder is null ? null : surroundings.At(folder),
                Light = parsed.GetValue(light) switch { "front" => Light.Front, "back" => Light.Back, _ => null },
                Scoring = scoring.From(parsed),
            };
            if (parsed.GetValue(queue)) return QueueCommand.Put(terminal, request, surroundings.Person, isJson);
            Outcome<ReadCardsResult> cards = terminal.Counting(progress => ReadCards.Run(request, progress));
            return cards.IsRefused ? terminal.Refuse(cards.Refusal!) : CardsSummary.Print(terminal, cards.Value, isJson);
        });
        return command;
    }
}
