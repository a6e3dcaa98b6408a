using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>A line of the key on the page.</summary>
internal static class KeyItem
{
    public static XElement Write(KeyEntry entry) => new(
        "li",
        entry.Icon.Count == 0 ? null : new XElement(
            "svg",
            Html.Class("icon"), new XAttribute("viewBox", "0 0 2 1"), Svg.At("width", 40), Svg.At("height", 20),
            new XAttribute("aria-hidden", "true"), MarkSvg.Draw(entry.Icon)),
        new XElement("span", entry.Words));
}
