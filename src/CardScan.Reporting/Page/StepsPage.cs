using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The settings of a card by their colours in its drawing: a page to print and to keep beside the machine.</summary>
internal static class StepsPage
{
    public static string Write(Plan plan, ValueList<BurnStep> steps, ValueList<string> cautions)
    {
        XElement main = new(
            "main",
            new XElement(
                "header",
                Html.Paragraph(Html.Class("eyebrow"), ShownPlan.Title(plan)),
                new XElement("h1", Voice.Say("page.steps.title")),
                Html.Paragraph(ShownPlan.Subtitle(plan)),
                Html.Paragraph(Voice.Tell(plan.EveryCell())),
                Html.Paragraph(Voice.Say("page.steps.lead")),
                Html.Paragraph(Html.Class("meaning"), Voice.Say("page.steps.note"))),
            Part(steps),
            Html.Section(
                "cautions", Voice.Say("page.caution.title"),
                new XElement("ul", Html.Class("cautions"), Warned(plan, cautions).Select(caution => new XElement("li", caution)))));
        return PageShell.Write(Voice.Say("page.steps.head", ("title", ShownPlan.Title(plan))), main, Footer(plan));
    }

    /// <summary>The table.</summary>
    public static XElement Part(ValueList<BurnStep> steps) => Html.Scroller(Voice.Say("page.steps.table"), fits: false, Table(steps));

    private static XElement Table(ValueList<BurnStep> steps)
    {
        Setting[] settings = [.. Enum.GetValues<Setting>().Where(setting => steps.Any(step => Of(step, setting) is not null))];
        return new(
            "table",
            Html.Class("steps"),
            Html.Head(
            [
                Voice.Say("page.steps.head-order"), Voice.Say("page.steps.head-colour"), Voice.Say("page.steps.head-what"),
                Voice.Say("page.steps.head-mode"), .. settings.SelectMany(Headings),
            ]),
            new XElement("tbody", steps.Select(step => new XElement(
                "tr",
                Html.Heading("row", $"{step.Order}"),
                new XElement("td", Swatch(step.Colour), " ", new XElement("code", step.Colour)),
                new XElement("td", ShownStep.What(step)),
                new XElement("td", ShownStep.Mode(step)),
                settings.SelectMany(setting => Values(step, setting)).Select(text => new XElement("td", text))))));
    }

    private static IEnumerable<string> Headings(Setting setting) => setting == Setting.SpeedMmPerMin
        ? [ShownSetting.Heading(setting), Voice.Say("page.steps.head-speed-s")]
        : [ShownSetting.Heading(setting)];

    private static IEnumerable<string> Values(BurnStep step, Setting setting)
    {
        double? value = Of(step, setting);
        return setting == Setting.SpeedMmPerMin ? [Typed(value), Typed(value / 60)] : [Typed(value)];
    }

    /// <summary>As it is to be typed into another program: no value of a plan is finer than this.</summary>
    private static string Typed(double? value) => value is { } known ? Voice.Tell(Given(Math.Round(known, 3))) : "–";

    private static double? Of(BurnStep step, Setting setting) =>
        step.Settings?.ValueOf(setting);

    /// <summary>A picture, not a background: browsers leave those out of what they print.</summary>
    private static XElement Swatch(string colour) => new(
        "svg", Html.Class("swatch"), new XAttribute("viewBox", "0 0 24 12"), new XAttribute("preserveAspectRatio", "none"),
        new XAttribute("aria-hidden", "true"),
        new XElement("rect", new XAttribute("width", "24"), new XAttribute("height", "12"), new XAttribute("fill", colour)));

    private static ValueList<string> Warned(Plan plan, ValueList<string> cautions) => plan.AcceptedRisk is { } risk
        ? [Voice.Say("page.steps.risk", ("risk", risk)), .. cautions]
        : cautions;

    private static XElement Footer(Plan plan) => new("footer", Html.Paragraph(Voice.Say("page.steps.footer", ("number", plan.Number))));
}
