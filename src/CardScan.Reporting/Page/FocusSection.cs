using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Best focus and beam size of a focus ladder; in place of the recommendations, first on the page.</summary>
internal static class FocusSection
{
    private static readonly string[] Headings = ["Axis", "Best focus offset, mm (95 % interval)", "Beam in focus, mm (95 % interval)", "Rayleigh length, mm", "Cells"];

    public static XElement Write(Reading reading)
    {
        FocusResult focus = reading.Focus ?? new();
        return Html.Section(
            "focus", focus.OffsetMm is null ? "No best focus found" : "Best focus",
            Html.Paragraph(Html.Class("lead"), Lead(focus)),
            Html.Scroller(
                "Table of the focus", fits: true,
                new XElement(
                    "table",
                    new XElement("thead", new XElement("tr", Headings.Select(text => Html.Heading("col", text)))),
                    new XElement("tbody", Row("across x", focus.AcrossX), Row("across y", focus.AcrossY)))),
            Html.Paragraph(Html.Class("meaning"), "Across x: from the widths of the lines that run down; across y: of those that run across. Positive offsets are above the surface. The beam's width is taken between the points of 1/e² of its peak; at the Rayleigh length from its focus it is √2 times as wide."),
            new XElement("div", Html.Class("pair wide"), Figure(reading, "x", focus.AcrossX, widths => widths.AcrossXMm), Figure(reading, "y", focus.AcrossY, widths => widths.AcrossYMm)));
    }

    private static string Lead(FocusResult focus) => focus switch
    {
        { OffsetMm: not double } => "This ladder does not tell where the focus is. What to do next is said below.",
        { OffsetMm: double mm, AcrossX.BestOffset: not null, AcrossY.BestOffset: not null } => $"Set the focus offset to {Numbers.WithSign(mm, 2)} mm, midway between the best of the two axes.",
        { OffsetMm: double mm } => $"Set the focus offset to {Numbers.WithSign(mm, 2)} mm, the best of the one axis that is known.",
    };

    private static XElement Row(string name, FocusAxis? axis) => new(
        "tr",
        Html.Heading("row", name),
        new XElement("td", axis?.BestOffset is { } best ? $"{Numbers.WithSign(best.Value, 2)} ({Numbers.WithSign(best.Low, 2)} to {Numbers.WithSign(best.High, 2)})" : Html.NotMeasured()),
        new XElement("td", axis?.Beam is { } beam ? $"{Numbers.Fixed(beam.Value, 3)} ({Numbers.Fixed(beam.Low, 3)} to {Numbers.Fixed(beam.High, 3)})" : Html.NotMeasured()),
        new XElement("td", axis?.RayleighMm is { } rayleigh ? Numbers.Significant(rayleigh, 2) : Html.NotMeasured()),
        new XElement("td", axis?.Cells ?? 0));

    private static XElement? Figure(Reading reading, string name, FocusAxis? axis, Func<LineWidths, Measured?> of) =>
        FocusChart.Draw(reading, name, axis, of) is not { } chart ? null : new(
            "figure",
            Html.Scroller($"Line widths across {name}", fits: true, chart),
            new XElement("figcaption", $"Dots: mean width of a cell's lines across {name}, ± 1 standard error.{Caption(axis)}"));

    private static string Caption(FocusAxis? axis)
    {
        if (axis is not { Curves.Count: > 0 }) return "";
        string energies = string.Join(", ", axis.Curves.Select(curve => Numbers.Significant(curve.JoulesPerMm, 2)));
        string best = axis.BestOffset is null ? "" : " Upright line and band: the best offset and its 95 % interval.";
        return $" {(axis.Curves.Count == 1 ? "Line: the fitted width" : "Lines: the fitted widths")} at {energies} J/mm, shaded: 95 % band.{best}";
    }
}
