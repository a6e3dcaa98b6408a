using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>All cells with all that was measured.</summary>
internal static class CellTable
{
    private sealed record Column(string Heading, Func<CellReading, object> Content);

    public static XElement Write(Reading reading)
    {
        List<Column> columns = [.. Columns(reading)];
        return Html.Section(
            "cells", "All cells",
            Html.Paragraph(Html.Class("meaning"), Note(reading)),
            Html.Scroller(
                "Table of all cells", fits: false,
                new XElement(
                    "table",
                    Html.Class(ShowsSides(reading) ? "cells with-sides" : "cells"),
                    new XElement("thead", new XElement("tr", Html.Heading("col", "Cell"), columns.Select(column => Html.Heading("col", column.Heading)))),
                    new XElement("tbody", reading.Cells.SelectMany(cell => Rows(reading, cell, columns))))));
    }

    /// <summary>A row of values, and under it a row of words where the cell is doubtful.</summary>
    private static IEnumerable<XElement> Rows(Reading reading, CellReading cell, List<Column> columns)
    {
        yield return Row(reading, cell, columns);
        if (CellWords.Remarks(cell) is { Length: > 0 } remarks)
        {
            yield return new(
                "tr", Html.Class("remark"),
                new XElement("td", new XAttribute("colspan", columns.Count + 1), $"{Name(cell)}: {remarks}"));
        }
    }

    private static string Name(CellReading cell) => $"r{cell.Row + 1}\u00a0c{cell.Column + 1}";

    private static string Note(Reading reading)
    {
        const string Places = "Rows and columns are counted from 1 at the card's top left (from 0 in reading.json and cells.csv).";
        return reading.Plan.Process == Process.Cut ? Places
            : reading.Plan.Kind == CardKind.FocusLadder ? $"{Places} Values ± one standard error."
            : $"{Places} Values ± one standard error. Contrast is Y cell / Y bare − 1: negative is darker than the bare material; reasons and the curve tell it without its sign, as mark strength. L* is lightness, ΔE2000 the colour difference from the bare material, both as photographed, against the photo's own white.";
    }

    private static XElement Row(Reading reading, CellReading cell, List<Column> columns)
    {
        bool isRecommended = reading.Recommendations.Any(recommendation => recommendation.OwnCell is { } at && at.Row == cell.Row && at.Column == cell.Column);
        return new(
            "tr",
            isRecommended ? Html.Class("recommended-row") : null,
            Html.Heading("row", Name(cell), isRecommended ? " ★" : null),
            columns.Select(column => new XElement("td", column.Content(cell))));
    }

    private static IEnumerable<Column> Columns(Reading reading)
    {
        bool isCut = reading.Plan.Process == Process.Cut, isLadder = reading.Plan.Kind == CardKind.FocusLadder;
        foreach (Setting setting in Settings(reading))
            yield return new(SettingWords.Heading(setting), cell => SettingWords.Of(cell.Settings, setting) is double value ? Numbers.Chosen(value) : "–");
        yield return new("Dose", cell => cell.Dose is null ? Html.NotMeasured() : CellWords.Dose(cell.Dose));
        if (isCut && reading.Plan.Material.ThicknessMm is { } thicknessMm)
            yield return new("Dose per mm of thickness", cell => cell.Dose?.PerThickness(thicknessMm) is { } dose ? $"{Numbers.Significant(dose, 3)}\u00a0J/mm" : Html.NotMeasured());

        if (ShowsSides(reading))
        {
            yield return new("Through", cell => cell.Through is null ? Html.NotMeasured() : CellWords.Through(cell.Through));
            foreach ((string name, Func<Sides, SideReading> of) in Sides)
                yield return new(name, cell => cell.Sides is { } sides ? CellWords.Side(of(sides)) : Html.NotMeasured());
        }

        foreach ((string heading, int mostDecimals, Func<CellReading, Measured?> of) in Measurements)
        {
            // A cut card or a ladder has no fills to measure: columns that no cell fills would only push the others off the sheet.
            if ((isCut || isLadder || heading.StartsWith("Line", StringComparison.Ordinal)) && !reading.Cells.Any(cell => of(cell) is not null)) continue;
            yield return new(heading, cell => of(cell) is { } measured ? Numbers.WithError(measured, mostDecimals) : Html.NotMeasured());
        }
    }

    private static bool ShowsSides(Reading reading) =>
        reading.Plan.Process == Process.Cut || reading.Cells.Any(cell => cell.Sides is not null || cell.Through is not null);

    /// <summary>Power and speed always, and whatever else changes over the card.</summary>
    private static IEnumerable<Setting> Settings(Reading reading) =>
        Enum.GetValues<Setting>().Where(setting =>
            setting is Setting.PowerPercent or Setting.SpeedMmPerMin
            || setting == reading.Plan.Columns.Setting || setting == reading.Plan.Rows.Setting);

    private static readonly (string Heading, Func<Sides, SideReading> Of)[] Sides =
        [("Left side", s => s.Left), ("Right side", s => s.Right), ("Top side", s => s.Top), ("Bottom side", s => s.Bottom)];

    private static readonly (string Heading, int MostDecimals, Func<CellReading, Measured?> Of)[] Measurements =
    [
        ("Darkness D", 3, cell => cell.Darkness),
        ("Lightness L*", 1, cell => cell.Lightness),
        ("Contrast", 3, cell => cell.Contrast),
        ("ΔE2000", 1, cell => cell.DeltaE2000),
        ("Evenness", 3, cell => cell.Evenness),
        ("Halo, mm", 2, cell => cell.HaloMm),
        ("Line width across x, mm", 3, cell => cell.LineWidths?.AcrossXMm),
        ("Line width across y, mm", 3, cell => cell.LineWidths?.AcrossYMm),
    ];
}
