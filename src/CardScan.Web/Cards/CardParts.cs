using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>What is to be read before a card is burned.</summary>
internal static class CardParts
{
    /// <summary>What to look at again, each with its remedy; null where there is nothing.</summary>
    /// <param name="planned">The card.</param>
    /// <param name="more">Another sentence; null for none.</param>
    public static XElement? Warnings(PlannedCard planned, string? more = null)
    {
        XElement[] items =
        [
            // What concerns this card stands before what concerns every one.
            .. new[] { planned.Plan.AcceptedRisk is { } risk ? Voice.Say("terminal.accepted", ("risk", risk)) : null, more }
                .OfType<string>().Concat(planned.Hints.Select(hint => hint.Message)).Select(text => new XElement("li", text)),
            .. planned.WithoutMachineFile is { } missing
                ? [new XElement("li", missing.Seen, " ", missing.Remedy)]
                : Array.Empty<XElement>(),
        ];
        return items.Length == 0 ? null : new("ul", Html.Class("warnings"), items);
    }

    /// <summary>What whoever burns it must have read.</summary>
    public static XElement Cautions(ValueList<string> cautions) => Html.Section(
        "cautions", Voice.Say("page.caution.title"),
        new XElement("ul", Html.Class("cautions"), cautions.Select(caution => new XElement("li", caution))));
}
