using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Best focus and beam size of a focus ladder; in place of the recommendations, first on the page.</summary>
internal static class FocusSection
{
    private static readonly string[] Headings =
    [
        "page.focus.head-axis", "page.focus.head-offset", "page.focus.head-beam", "page.focus.head-rayleigh", "page.focus.head-cells",
    ];

    public static XElement Write(Reading reading)
    {
        FocusResult focus = reading.Focus ?? new();
        return Html.Section(
            "focus", Voice.Say("page.focus.title", ("found", Is(focus.OffsetMm is not null))),
            Html.Paragraph(Html.Class("lead"), Lead(focus)),
            Html.Scroller(
                Voice.Say("page.focus.table"), fits: true,
                new XElement(
                    "table",
                    Html.Head(Headings.Select(key => Voice.Say(key))),
                    new XElement("tbody", Row("x", focus.AcrossX), Row("y", focus.AcrossY)))),
            Html.Paragraph(Html.Class("meaning"), Voice.Say("page.focus.meaning")),
            new XElement(
                "div", Html.Class("pair wide"),
                Figure(reading, "x", focus.AcrossX, widths => widths.AcrossXMm),
                Figure(reading, "y", focus.AcrossY, widths => widths.AcrossYMm)));
    }

    private static string Lead(FocusResult focus)
    {
        if (focus.OffsetMm is not double mm) return Voice.Say("page.focus.lead", ("axes", "none"));
        bool areBoth = focus is { AcrossX.BestOffset: not null, AcrossY.BestOffset: not null };
        return Voice.Say("page.focus.lead", ("axes", areBoth ? "both" : "one"), ("offset", In(Unit.OffsetMm, mm)));
    }

    private static XElement Row(string name, FocusAxis? axis) => new(
        "tr",
        Html.Heading("row", Voice.Say("page.focus.across", ("axis", name))),
        Cell(axis?.BestOffset is { } best ? In(Unit.OffsetMm, best.Value, best.Low, best.High) : null),
        Cell(axis?.Beam is { } beam ? In(Unit.Mm, beam.Value, beam.Low, beam.High) : null),
        Cell(axis?.RayleighMm is { } rayleigh ? Mm(rayleigh) : null),
        new XElement("td", axis?.Cells ?? 0));

    private static XElement Cell(Number? number) => new("td", number is null ? Html.NotMeasured() : Voice.TellBare(number));

    private static XElement? Figure(Reading reading, string name, FocusAxis? axis, Func<LineWidths, Measured?> of) =>
        FocusChart.Draw(reading, name, axis, of) is not { } chart ? null : new(
            "figure",
            Html.Scroller(Voice.Say("page.focus.scroller", ("axis", name)), fits: true, chart),
            new XElement("figcaption", Caption(name, axis)));

    private static string Caption(string name, FocusAxis? axis)
    {
        FocusCurve[] curves = [.. axis?.Curves ?? []];
        return Voice.Say(
            "page.focus.caption",
            ("axis", name), ("curves", curves.Length),
            ("energies", List(curves.Select(curve => (Figure)In(Unit.JPerMm, curve.JoulesPerMm)))),
            ("best", Is(curves.Length > 0 && axis?.BestOffset is not null)));
    }
}
