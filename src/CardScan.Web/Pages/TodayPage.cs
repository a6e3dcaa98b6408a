using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>What to do next, and the three ways to begin.</summary>
internal static class TodayPage
{
    public static string Write(HttpContext context) => Shell.Write(
        context, Voice.Say("web.way", ("to", "today")),
        new XElement("h1", Voice.Say("web.way", ("to", "today"))),
        new XElement("div", Html.Class("ways"), new[] { ("/cards/new", "make"), ("/photograph", "photograph"), ("/settings", "settings") }
            .Select(way => new XElement("a", Html.Class("button large"), new XAttribute("href", way.Item1), Voice.Say("web.way", ("to", way.Item2))))));
}
