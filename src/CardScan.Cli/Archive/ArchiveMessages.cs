using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>What the archive holds, for a person.</summary>
internal static class ArchiveMessages
{
    /// <summary>"birch plywood 3 mm".</summary>
    public static string Material(CardEntry card) => Voice.Tell(card.MaterialFigure());

    /// <summary>Whether a card is engraved or cut.</summary>
    public static string Process(CardEntry card) => Voice.Say("terminal.process", ("process", ArchiveJson.Process(card)));

    /// <summary>Everything that must be entered to repeat it, and the earlier card that it stands on.</summary>
    public static string Setting(RecommendationEntry recommendation) => Voice.Tell(recommendation.ToFigure());

    /// <summary>A time, UTC: "2026-11-25 10:31 UTC".</summary>
    public static string Time(DateTimeOffset time) => Voice.Say("terminal.time", ("time", $"{time:yyyy-MM-dd HH:mm}"));

    /// <summary>Warns of burning a card's material, once, wherever settings for it are listed.</summary>
    public static void WarnOf(Terminal terminal, CardEntry card)
    {
        foreach (Advice against in MaterialWords.Of(card.Material)) terminal.Warn(against);
    }

    /// <summary>The codes of those warnings, for a line of a list.</summary>
    public static string Hazards(CardEntry card) => string.Join(' ', MaterialWords.Of(card.Material).Select(against => against.Code));
}
