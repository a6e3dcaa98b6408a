using System.CommandLine;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan read</c>: photos of a card to measurements and settings.</summary>
internal static class ReadCommand
{
    public static Command Create(Terminal terminal, Surroundings surroundings)
    {
        Argument<string[]> photos = new("photo") { Description = "Photos of one card, JPEG or PNG", Arity = ArgumentArity.OneOrMore };
        Option<string> plan = new("--plan", "-p") { Description = "The plan that the card was burned from, or its card in the archive (c5); without it the card's number in the photo finds its plan in the archive", HelpName = "file" };
        Option<string> output = new("--out", "-o") { Description = "Folder for the page, the annotated picture, the reading and the table (default card-NUMBER)", HelpName = "folder" };
        Option<bool> json = new("--json") { Description = "Print reading.json alone; write files only if --out is given" };
        Option<string> light = new("--light") { Description = "Where the light came from; without it each photo tells by itself", HelpName = "front|back" };
        light.AcceptOnlyFromAmong("front", "back");
        ScoringInput scoring = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("read", "Measure a burned card in its photos and recommend settings", """
            Several photos of the same card are combined.
            Engraved cards: ordinary photos, soft even light, no reflections.
            Cut cards: photos with a lamp or light pad behind the card and some light in front, from several places;
            an ordinary photo beside them adds the char.

            What was read is kept in the archive, the photos with it; reading the same photos again is fine.

            Examples:
              cardscan read photo.jpg
              cardscan read photo.jpg --plan card-17/plan.json
              cardscan read left.jpg right.jpg front.jpg --plan card-18/plan.json --out birch-cut

            Exit codes: 0 done; 2 the command line or a file is wrong; 3 the photo cannot be measured; 1 anything else.
            """)
        {
            photos, plan, output, json, light,
        };
        scoring.AddTo(command);
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            bool isJson = parsed.GetValue(json);
            ReadRequest request = new()
            {
                Photos = parsed.GetValue(photos)!.ToValueList(),
                Plan = parsed.GetValue(plan),
                Archive = archive.From(parsed),
                OutputFolder = parsed.GetValue(output) ?? (isJson ? null : ReadRequest.FolderOfCard),
                Light = parsed.GetValue(light) switch { "front" => Light.Front, "back" => Light.Back, _ => null },
                Scoring = scoring.From(parsed),
            };
            Outcome<ReadResult> result = terminal.Working("reading", progress => ReadCard.Run(request, progress));
            return result.IsRefused ? terminal.Refuse(result.Refusal!) : ReadingSummary.Print(terminal, result.Value, isJson);
        });
        return command;
    }
}
