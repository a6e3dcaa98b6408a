using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What to mind before running anything that stands on this page.</summary>
internal static class CautionSection
{
    private static readonly (string Lead, string Text)[] Items =
    [
        ("page.caution.eyes", "page.caution.eyes-text"), ("page.caution.air", "page.caution.air-text"),
        ("page.caution.unattended", "page.caution.unattended-text"), ("page.caution.fire", "page.caution.fire-text"),
        ("page.caution.first", "page.caution.first-text"), ("page.caution.what", "page.caution.what-text"),
    ];

    public static XElement Write(Plan plan) => Html.Section(
        "cautions", Voice.Say("page.caution.title"),
        new XElement("ul", Html.Class("cautions"), Items.Select(item => new XElement(
            "li", new XElement("strong", Voice.Say(item.Lead)), " ", Voice.Say(item.Text, ("process", $"{plan.Process}"))))));
}
