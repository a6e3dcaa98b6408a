using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>All cells with all that was measured.</summary>
internal static class CellTable
{
    private sealed record TableColumn(string Heading, Func<CellReading, object> Content);

    public static XElement Write(Reading reading)
    {
        List<TableColumn> columns = [.. Columns(reading)];
        return Html.Section(
            "cells", Voice.Say("page.cells.title"),
            Html.Paragraph(Html.Class("meaning"), Voice.Say("page.cells.note", ("kind", KindOf(reading.Plan)))),
            Html.Scroller(
                Voice.Say("page.cells.table"), fits: false,
                new XElement(
                    "table",
                    Html.Class(ShowsSides(reading) ? "cells with-sides" : "cells"),
                    Html.Head([Voice.Say("page.cells.head-cell"), .. columns.Select(column => column.Heading)]),
                    new XElement("tbody", reading.Cells.SelectMany(cell => Rows(reading, cell, columns))))));
    }

    /// <summary>One cell: its place and settings above, its figures below.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="cell">One of its cells.</param>
    /// <param name="badge">Numbers of the settings that name it; null where none does.</param>
    public static XElement One(Reading reading, CellReading cell, string? badge) => new(
        "div",
        Html.Class("one-cell"),
        new XElement(
            "h3",
            badge is null ? null : new XElement("span", Html.Class("badge"), badge), badge is null ? null : " ",
            Voice.Tell(GridCells.Place(cell.Row, cell.Column))),
        reading.Plan.IsPrinted ? null : Html.Paragraph(Html.Class("lead"), Voice.Tell(cell.Settings.ToFigure(reading.Plan))),
        ShownCell.Remarks(cell) is { Length: > 0 } remarks ? Html.Paragraph(Html.Class("doubt"), remarks) : null,
        new XElement("dl", Html.Class("facts"), Columns(reading).Skip(Settings(reading).Count()).Select(column => new XElement(
            "div", new XElement("dt", column.Heading), new XElement("dd", column.Content(cell))))));

    private static string KindOf(Plan plan) => plan switch
    {
        { Process: Process.Cut } => "cut",
        { Kind: CardKind.FocusLadder } => "line",
        _ => "mark",
    };

    /// <summary>A row of values, and under it a row of words where the cell is doubtful.</summary>
    private static IEnumerable<XElement> Rows(Reading reading, CellReading cell, List<TableColumn> columns)
    {
        yield return Row(reading, cell, columns);
        if (ShownCell.Remarks(cell) is { Length: > 0 } remarks)
        {
            string words = Voice.Say("page.cells.remark", ("cell", ShownCell.Name(cell.Row, cell.Column)), ("remarks", remarks));
            yield return new("tr", Html.Class("remark"), new XElement("td", new XAttribute("colspan", columns.Count + 1), words));
        }
    }

    private static XElement Row(Reading reading, CellReading cell, List<TableColumn> columns)
    {
        bool isRecommended = reading.Recommendations.Any(recommendation =>
            recommendation.OwnCell is { } at && at.Row == cell.Row && at.Column == cell.Column);
        return new(
            "tr",
            isRecommended ? Html.Class("recommended-row") : null,
            Html.Heading("row", ShownCell.Name(cell.Row, cell.Column), isRecommended ? " ★" : null),
            columns.Select(column => new XElement("td", column.Content(cell))));
    }

    private static IEnumerable<TableColumn> Columns(Reading reading)
    {
        bool isCut = reading.Plan.Process == Process.Cut, isLadder = reading.Plan.Kind == CardKind.FocusLadder;
        foreach (Setting setting in Settings(reading))
        {
            yield return new(
                ShownSetting.Heading(setting),
                cell => ValueOf(setting, cell, reading.Plan) is double value ? ShownSetting.Bare(setting, value) : "–");
        }

        if (!reading.Plan.IsPrinted)
        {
            yield return new(
                Voice.Say("page.cells.head-energy"), cell => cell.Dose is { } dose ? ShownCell.Energy(dose) : Html.NotMeasured());
        }

        if (isCut && reading.Plan.Material.ThicknessMm is { } thicknessMm)
        {
            yield return new(
                Voice.Say("page.cells.head-energy", ("per", "thickness")),
                cell => cell.Dose?.PerThickness(thicknessMm) is { } dose ? Voice.Tell(In(Unit.JPerMm, dose)) : Html.NotMeasured());
        }

        if (ShowsSides(reading))
        {
            yield return new(
                Voice.Say("page.cells.head-through"), cell => cell.Through is null ? Html.NotMeasured() : ShownCell.Through(cell.Through));
            foreach ((string heading, Func<Sides, SideReading> of) in Sides)
                yield return new(Voice.Say(heading), cell => cell.Sides is { } sides ? ShownCell.Side(of(sides)) : Html.NotMeasured());
        }

        foreach ((string heading, bool isOfFills, int mostDecimals, Func<CellReading, Measured?> of) in Measurements)
        {
            // A cut card or a ladder has no fills to measure: columns that no cell fills would only push the others off the sheet.
            if ((isCut || isLadder || !isOfFills) && !reading.Cells.Any(cell => of(cell) is not null)) continue;
            yield return new(
                Voice.Say(heading), cell => of(cell) is { } measured ? Numbers.WithError(measured, mostDecimals) : Html.NotMeasured());
        }
    }

    private static bool ShowsSides(Reading reading) =>
        reading.Plan.Process == Process.Cut || reading.Cells.Any(cell => cell.Sides is not null || cell.Through is not null);

    /// <summary>Power and speed always, and whatever else changes over the card; of what is printed the density alone.</summary>
    private static IEnumerable<Setting> Settings(Reading reading) => reading.Plan.IsPrinted
        ? [Setting.PrintedDensity]
        : Enum.GetValues<Setting>().Where(setting =>
            setting is Setting.PowerPercent or Setting.SpeedMmPerMin
            || setting == reading.Plan.Columns.Setting || setting == reading.Plan.Rows.Setting);

    private static double? ValueOf(Setting setting, CellReading cell, Plan plan) => setting == Setting.PrintedDensity
        ? plan.Columns.Values[cell.Column]
        : cell.Settings.ValueOf(setting);

    private static readonly (string Heading, Func<Sides, SideReading> Of)[] Sides =
    [
        ("page.cells.head-left", s => s.Left), ("page.cells.head-right", s => s.Right),
        ("page.cells.head-top", s => s.Top), ("page.cells.head-bottom", s => s.Bottom),
    ];

    private static readonly (string Heading, bool IsOfFills, int MostDecimals, Func<CellReading, Measured?> Of)[] Measurements =
    [
        ("page.cells.head-darkness", true, 3, cell => cell.Darkness),
        ("page.cells.head-lightness", true, 1, cell => cell.Lightness),
        ("page.cells.head-contrast", true, 3, cell => cell.Contrast),
        ("page.cells.head-colour", true, 1, cell => cell.DeltaE2000),
        ("page.cells.head-evenness", true, 3, cell => cell.Evenness),
        ("page.cells.head-halo", true, 2, cell => cell.HaloMm),
        ("page.cells.head-line-x", false, 3, cell => cell.LineWidths?.AcrossXMm),
        ("page.cells.head-line-y", false, 3, cell => cell.LineWidths?.AcrossYMm),
    ];
}
