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
            "tones", "Tones for pictures",
            Html.Paragraph(Range(tones)),
            new XElement("div", Html.Class("pair"), Table(tones), Chart(grid, tones)),
            Html.Paragraph(Html.Class("meaning"), $"{Meaning(tones)} The interval is where an area burned anew comes out with 95 % probability. Greys are shown for a screen whose white is the bare material; the material's own hue is not."));
    }

    private static string Meaning(ToneScale tones) => tones.IsLighterThanBare
        ? "These marks are lighter than the bare material. Relative lightness is in percent of the bare material's (100), by the formula of CIE 1976 L*, which itself ends at its white: equal steps look about equal."
        : "L* is CIE 1976 lightness with the bare material as the white (100): equal steps look about equal.";

    private static string Range(ToneScale tones)
    {
        (ToneStep first, ToneStep last) = (tones.Steps[0], tones.Steps[^1]);
        string what = tones.Setting == Setting.PowerPercent ? "power" : "speed";
        string fewer = tones.Steps.Count < tones.StepsAsked ? $", of {tones.StepsAsked} asked for: more could not be told apart" : "";
        return $"{tones.Steps.Count} even tones by {what}{fewer}. Usable range: {ToneWords.Setting(first)} ({ToneWords.Quantity(tones)} {Numbers.Fixed(first.Lightness, 0)}) to {ToneWords.Setting(last)} ({ToneWords.Quantity(tones)} {Numbers.Fixed(last.Lightness, 0)}).";
    }

    private static XElement Table(ToneScale tones) => Html.Scroller(
        "Table of the tones", fits: true,
        new XElement(
            "table",
            new XElement("thead", new XElement("tr", Headings(tones).Select(text => Html.Heading("col", text)))),
            new XElement("tbody", tones.Steps.Select((step, i) => Row(tones, step, i)))));

    private static string[] Headings(ToneScale tones) => ["Tone", "Grey", "Speed, mm/min", "Power, %", Sentence.Capital($"{ToneWords.Quantity(tones)} (95 % interval)")];

    private static XElement Row(ToneScale tones, ToneStep step, int index) => new(
        "tr",
        Html.Heading("row", index + 1),
        new XElement("td", Svg.Drawing($"Grey of tone {index + 1}", $"{ToneWords.Quantity(tones)} {Numbers.Fixed(step.Lightness, 0)}", new(0, 0, 40, 18), 40, Svg.Rect(0.5, 0.5, 39, 17, Svg.Fill(ToneWords.Grey(step)), Svg.Class("tone")))),
        new XElement("td", Numbers.Chosen(step.SpeedMmPerMin)),
        new XElement("td", Numbers.Chosen(step.PowerPercent)),
        new XElement("td", Numbers.WithInterval(step.Lightness, step.Low, step.High)));

    private static XElement? Chart(GridCells grid, ToneScale tones) => ToneChart.Draw(grid, tones) is not { } chart ? null : new(
        "figure",
        Html.Scroller("Curve of the tones", fits: true, chart),
        new XElement("figcaption", "Squares: the tones, in their grey. Dots: the burned cells. Line: the fitted curve; shaded: where 95 % of areas burned anew come out."));
}
