using System.CommandLine;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan read</c>: photos of a card to measurements and settings.</summary>
internal static class ReadCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string[]> photos = new("photo") { Description = "Photos, or folders of them; each card that they show is read by itself", Arity = ArgumentArity.OneOrMore };
        Option<string[]> plan = new("--plan", "-p") { Description = "The plan that the card was burned from, or its card in the archive (c5); once for each card. Without it the card's number in the photo finds its plan in the archive", HelpName = "file", Arity = ArgumentArity.ZeroOrMore };
        Option<string> output = new("--out", "-o") { Description = "Folder for the page, the annotated picture, the reading and the table (default card-NUMBER); of several cards each gets its own inside it", HelpName = "folder" };
        Option<bool> json = new("--json") { Description = "Print reading.json alone, of several cards a list of them; write files only if --out is given" };
        Option<string> light = new("--light") { Description = "Where the light came from; without it each photo tells by itself", HelpName = "front|back" };
        light.AcceptOnlyFromAmong("front", "back");
        Option<bool> alone = CompanyInput.Alone();
        ScoringInput scoring = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("read", "Measure a burned card in its photos and recommend settings", """
            Photos of the same card are combined. Photos of several cards are sorted by the numbers in the cards' corners;
            a photo or card that cannot be read is reported and skipped.
            Engraved cards: ordinary photos, soft even light, no reflections.
            Cut cards: photos with a lamp or light pad behind the card and some light in front, from several places;
            an ordinary photo beside them adds the char.

            What was read is kept in the archive, the photos with it; reading the same photos again is fine. A card is scored
            together with the archive's other cards of the same material, thickness, batch, machine and focus, the newest
            eight at most; --alone leaves them out.

            Examples:
              cardscan read photo.jpg
              cardscan read photo.jpg --plan card-17/plan.json
              cardscan read left.jpg right.jpg front.jpg --plan card-18/plan.json --out birch-cut
              cardscan read photo.jpg left.jpg right.jpg --plan card-17/plan.json --plan card-18/plan.json

            Exit codes: 0 done; 2 the command line or a file is wrong; 3 a photo cannot be measured; 1 anything else.
            Where only some photos or cards are refused, the others are read all the same.
            """)
        {
            photos, plan, output, json, light, alone,
        };
        scoring.AddTo(command);
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            bool isJson = parsed.GetValue(json);
            Outcome<NamedPhotos> named = PhotoPaths.Of(parsed.GetValue(photos)!);
            if (named.IsRefused) return terminal.Refuse(named.Refusal!);
            ValueList<string> paths = named.Value.Paths;
            if (named.Value.PassedOver is { Count: > 0 } own) terminal.Note($"passed over what CardScan drew itself: {string.Join(", ", own.Select(path => Path.GetFileName(path)))}");
            ReadRequest request = new()
            {
                Photos = paths,
                Plans = (parsed.GetValue(plan) ?? []).ToValueList(),
                Archive = archive.From(parsed),
                IsAlone = parsed.GetValue(alone),
                OutputFolder = parsed.GetValue(output) ?? (isJson ? null : ReadRequest.FolderOfCard),
                Light = parsed.GetValue(light) switch { "front" => Light.Front, "back" => Light.Back, _ => null },
                Scoring = scoring.From(parsed),
            };
            Outcome<ReadCardsResult> cards = terminal.Counting(progress => ReadCards.Run(request, progress));
            return cards.IsRefused ? terminal.Refuse(cards.Refusal!) : CardsSummary.Print(terminal, cards.Value, isJson);
        });
        return command;
    }
}
