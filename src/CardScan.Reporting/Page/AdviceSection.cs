using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What else the card tells: goals without a setting, and where to go next.</summary>
internal static class AdviceSection
{
    /// <summary>What speaks against burning the material stands above the settings already.</summary>
    public static XElement? Write(Reading reading)
    {
        Advice[] advice = [.. reading.Advice.Where(advice => !advice.IsAgainstBurning)];
        return advice.Length == 0 ? null : Html.Section(
            "advice", Voice.Say("page.advice.title"),
            new XElement("ul", Html.Class(reading.Recommendations.Count == 0 ? "advice alone" : "advice"), advice.Select(Item)));
    }

    private static XElement Item(Advice advice) => new("li", advice.Goal is { Length: > 0 } goal ? Lead(goal) : null, advice.Message);

    private static object[] Lead(string goal) => [new XElement("strong", Voice.Say("page.advice.goal", ("goal", GoalName.Of(goal)))), " "];
}
