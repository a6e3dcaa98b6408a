using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Settings of even tones for pictures; nothing where none were asked for.</summary>
internal static class ToneSection
{
    public static XElement? Write(GridCells grid)
    {
        if (grid.Reading.Tones is not { Steps.Count: > 0 } tones) return null;
        return Html.Section(
            "tones", Voice.Say("page.tones.title"),
            Html.Paragraph(Range(grid.Reading.Plan, tones)),
            new XElement("div", Html.Class("pair"), Table(tones), Chart(grid, tones)),
            Html.Paragraph(Html.Class("meaning"), Voice.Say("page.tones.meaning", Lighter(tones))));
    }

    private static (string, Figure) Lighter(ToneScale tones) => ("lighter", Is(tones.IsLighterThanBare));

    private static string Range(Plan plan, ToneScale tones)
    {
        (ToneStep first, ToneStep last) = (tones.Steps[0], tones.Steps[^1]);
        List<(string, Figure)> values =
        [
            ("tones", tones.Steps.Count), ("setting", ShownSetting.Name(tones.Setting)), ("quantity", ShownTone.Quantity(tones)),
            ("first", ShownTone.SettingOf(plan, first)), ("first-tone", ShownTone.Lightness(first)),
            ("last", ShownTone.SettingOf(plan, last)), ("last-tone", ShownTone.Lightness(last)),
        ];
        if (tones.Steps.Count < tones.StepsAsked) values.Add(("asked", tones.StepsAsked));
        return Voice.Say("page.tones.range", values);
    }

    private static XElement Table(ToneScale tones) => Html.Scroller(
        Voice.Say("page.tones.table"), fits: true,
        new XElement(
            "table",
            Html.Head(
                Voice.Say("page.tones.head-tone"), Voice.Say("page.tones.head-grey"), ShownSetting.Heading(Setting.SpeedMmPerMin),
                ShownSetting.Heading(Setting.PowerPercent), Voice.Say("page.tones.head-lightness", Lighter(tones))),
            new XElement("tbody", tones.Steps.Select((step, i) => Row(tones, step, i + 1)))));

    private static XElement Row(ToneScale tones, ToneStep step, int number) => new(
        "tr",
        Html.Heading("row", number),
        new XElement("td", Svg.Drawing(
            Voice.Say("page.tones.grey", ("number", number), ("quantity", ShownTone.Quantity(tones)), ("tone", ShownTone.Lightness(step))),
            new(0, 0, 40, 18), 40, Svg.Rect(0.5, 0.5, 39, 17, Svg.Fill(ShownTone.Grey(step)), Svg.Class("tone")))),
        new XElement("td", ShownSetting.Bare(Setting.SpeedMmPerMin, step.SpeedMmPerMin)),
        new XElement("td", ShownSetting.Bare(Setting.PowerPercent, step.PowerPercent)),
        new XElement("td", Voice.TellBare(In(Unit.Lightness, step.Lightness, step.Low, step.High))));

    private static XElement? Chart(GridCells grid, ToneScale tones) => ToneChart.Draw(grid, tones) is not { } chart ? null : new(
        "figure",
        Html.Scroller(Voice.Say("page.tones.curve"), fits: true, chart),
        new XElement("figcaption", Voice.Say("page.tones.caption")));
}
