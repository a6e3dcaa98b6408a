using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What else the card tells: goals without a setting, and where to go next.</summary>
internal static class AdviceSection
{
    /// <summary>
    /// The head of the page has said one of them, where there is a setting, and what speaks against burning the material.
    /// </summary>
    public static XElement? Write(Reading reading)
    {
        Advice? said = reading.Recommendations.Count == 0 ? null : Judgement.Of(reading).Advice;
        Advice[] others = [.. reading.Advice.Where(advice => !advice.IsAgainstBurning && !ReferenceEquals(advice, said))];
        return others.Length == 0 ? null : Html.Section(
            "advice", Voice.Say("page.advice.title"),
            new XElement("ul", Html.Class(reading.Recommendations.Count == 0 ? "advice alone" : "advice"), others.Select(Item)));
    }

    private static XElement Item(Advice advice) => new("li", advice.Goal is { Length: > 0 } goal ? Lead(goal) : null, advice.Message);

    private static object[] Lead(string goal) => [new XElement("strong", Voice.Say("page.advice.goal", ("goal", GoalName.Of(goal)))), " "];
}
