using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>Many photos on the terminal: what came of each, the settings of each card, and which could not be read.</summary>
internal static class CardsSummary
{
    /// <summary>More names than these are counted instead.</summary>
    private const int MostNamed = 5;

    /// <summary>Prints what came of them; exit code of the command.</summary>
    public static int Print(Terminal terminal, ReadCardsResult result, bool isJson)
    {
        List<int> codes = [ExitCode.Done];
        if (result.Cards is [ReadResult only]) codes.Add(ReadingSummary.Print(terminal, only, isJson));
        else codes.AddRange(result.Cards.Select(card => PrintOneOfMany(terminal, card, isJson)));
        bool isMany = result.Cards.Count + result.Refused.Count > 1;
        if (isJson && isMany && result.Cards.Count != 1)
            terminal.ShowRaw($"[\n{string.Join(",\n", result.Cards.Select(card => CardJson.Write(card.Reading).TrimEnd()))}\n]\n");

        foreach (RefusedPhoto refused in result.Refused) codes.Add(terminal.Refuse(refused.Refusal));
        if (!isJson && isMany) terminal.ShowLine(Total(result));
        return codes.Max();
    }

    private static int PrintOneOfMany(Terminal terminal, ReadResult card, bool isJson)
    {
        if (isJson) return ReadingSummary.PrintDoubts(terminal, card, isJson);
        ReadingSummary.PrintHead(terminal, card.Reading);
        int code = ReadingSummary.PrintDoubts(terminal, card, isJson);
        foreach (PhotoRecord photo in card.Reading.Photos) terminal.ShowLine(Line(photo, card.Reading.Plan));
        ReadingSummary.PrintSettings(terminal, card.Reading);
        if (card.Files.Count > 0) terminal.ShowLine(card.Files[0]);
        terminal.ShowLine("");
        return code;
    }

    private static string Line(PhotoRecord photo, Plan plan) => Voice.Say("terminal.photo-line", Figures.Known(
        ("photo", photo.File), ("card", plan.Number), ("light", photo.Light == Light.Back ? "back" : "front"),
        ("scale", photo.PxPerMm is { } scale ? In(Unit.PxPerMm, scale) : null), ("warnings", photo.Warnings.Count)));

    private static string Total(ReadCardsResult result)
    {
        string[] refused = [.. result.Cards.SelectMany(card => card.Refused).Concat(result.Refused).Select(photo => photo.Name)];
        return Voice.Say("terminal.cards-read",
            ("cards", result.Cards.Count),
            ("photos", result.Cards.SelectMany(card => card.Reading.Photos).DistinctBy(photo => photo.Sha256).Count()),
            ("refused", refused.Length), ("names", Names(refused)));
    }

    private static Figure Names(string[] names) => names.Length <= MostNamed
        ? List(names)
        : new Phrase("name.and-more", ("named", List(names.Take(MostNamed))), ("more", names.Length - MostNamed));
}
