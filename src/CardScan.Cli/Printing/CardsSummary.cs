using System.Globalization;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Many photos on the terminal: what came of each, the settings of each card, and which could not be read.</summary>
internal static class CardsSummary
{
    /// <summary>Prints what came of them; exit code of the command.</summary>
    public static int Print(Terminal terminal, ReadCardsResult result, bool isJson)
    {
        List<int> codes = [ExitCode.Done];
        if (result.Cards is [ReadResult only]) codes.Add(ReadingSummary.Print(terminal, only, isJson));
        else codes.AddRange(result.Cards.Select(card => PrintOneOfMany(terminal, card, isJson)));
        bool isMany = result.Cards.Count + result.Refused.Count > 1;
        if (isJson && isMany && result.Cards.Count != 1) terminal.ShowRaw($"[\n{string.Join(",\n", result.Cards.Select(card => CardJson.Write(card.Reading).TrimEnd()))}\n]\n");

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

    private static string Line(PhotoRecord photo, Plan plan)
    {
        string scale = photo.PxPerMm is { } pxPerMm ? string.Create(CultureInfo.InvariantCulture, $", {pxPerMm:F1} px/mm") : "";
        string doubts = photo.Warnings.Count switch { 0 => "", 1 => ", 1 warning", int count => $", {count} warnings" };
        return $"{photo.File}: card {plan.Number}, light from the {(photo.Light == Light.Back ? "back" : "front")}{scale}{doubts}";
    }

    private static string Total(ReadCardsResult result)
    {
        RefusedPhoto[] refused = [.. result.Cards.SelectMany(card => card.Refused), .. result.Refused];
        string read = $"{Count(result.Cards.Count, "card")} read from {Count(result.Cards.Sum(card => card.Reading.Photos.Count), "photo")}";
        return refused.Length == 0 ? read : $"{read}; {Count(refused.Length, "photo")} not read: {Names([.. refused.Select(photo => photo.Name)])} (reasons above)";
    }

    private static string Names(string[] names)
    {
        const int most = 5;
        return names.Length <= most ? string.Join(", ", names) : $"{string.Join(", ", names.Take(most))} and {names.Length - most} more";
    }

    private static string Count(int count, string what) => $"{count} {what}{(count == 1 ? "" : "s")}";
}
