using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The pieces of a reading's page, for a page that puts them in an order of its own.</summary>
/// <remarks>Each call makes new elements: an element stands in one page only.</remarks>
/// <param name="reading">The reading, scored.</param>
public sealed class ReportParts(Reading reading)
{
    private readonly GridCells _grid = new(reading);
    private readonly CardMarks _marks = CardMarks.Of(reading);

    /// <summary>Which card this is, and whether its reading can be used.</summary>
    public XElement Title() => TitleSection.Write(reading);

    /// <summary>Whether a reading can be used, and its first setting, large.</summary>
    /// <param name="reading">The reading, scored.</param>
    /// <param name="isBrief">True to leave out why.</param>
    public static XElement Headline(Reading reading, bool isBrief)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return new("div", Html.Class("headline"), TitleSection.Judged(reading, isBrief), RecommendationSection.First(reading));
    }

    /// <summary>What to set the machine to; of a focus ladder the best focus; null of a grey strip, which no machine makes.</summary>
    public XElement? Settings() => reading.Plan.Kind switch
    {
        CardKind.GreyStrip => null,
        CardKind.FocusLadder => FocusSection.Write(reading),
        _ => RecommendationSection.Write(reading),
    };

    /// <summary>What else the card tells; null where it tells nothing more.</summary>
    public XElement? Advice() => AdviceSection.Write(reading);

    /// <summary>Card, judgement and settings as lines of text, to be pasted elsewhere.</summary>
    public string AsText() => string.Join('\n',
    [
        ShownPlan.Title(reading.Plan), ShownPlan.Subtitle(reading.Plan), Judgement.Of(reading).Lead,
        .. KeyEntry.Recommendations(reading).Select(entry => entry.Words),
    ]);

    /// <summary>A photo with the marks of all cells over it.</summary>
    /// <param name="index">Which of the reading's photos, from 0.</param>
    /// <param name="photo">Its rectified picture.</param>
    /// <param name="address">Where the page finds that picture.</param>
    /// <param name="link">The address behind a cell, by its row and column from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">The reading has no such photo.</exception>
    public XElement Photo(int index, PagePhoto photo, string address, Func<int, int, string> link)
    {
        ArgumentNullException.ThrowIfNull(photo);
        ArgumentNullException.ThrowIfNull(link);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, reading.Photos.Count);
        return PhotoSection.Figure(reading, _marks, reading.Photos[index], PlacedPicture.Of(photo, address), Links(link));
    }

    /// <summary>What the marks over the photos mean.</summary>
    public XElement Key() => PhotoSection.Key(reading, _marks);

    /// <summary>All figures of one cell, as in the table of all cells; null where the reading has no such cell.</summary>
    /// <param name="row">Its row, from 0.</param>
    /// <param name="column">Its column, from 0.</param>
    public XElement? Cell(int row, int column) =>
        _grid.At(row, column) is { } cell ? CellTable.One(reading, cell, _grid.Badge(row, column)) : null;

    /// <summary>The heat map and the boundary.</summary>
    public XElement Grid() => GridSection.Write(_grid);

    /// <summary>Everything else that was found, in the order of the report; empty parts left out.</summary>
    public IEnumerable<XElement> Figures() => new[]
    {
        CurveSection.Write(_grid), ToneSection.Write(_grid), KerfSection.Write(_grid), CellTable.Write(reading),
        QualitySection.Write(reading), ModelSection.Write(reading),
    }.OfType<XElement>();

    /// <summary>What to mind before running any of it.</summary>
    public XElement Cautions() => CautionSection.Write(reading.Plan);

    /// <summary>An area to touch over each cell, a little larger than the cell.</summary>
    private IEnumerable<XElement> Links(Func<int, int, string> link)
    {
        CardSpacing spacing = CardSpacing.Of(reading);
        (double left, double up) = (0.45 * spacing.GapXMm, 0.45 * spacing.GapYMm);
        return reading.Plan.Cells.Select(cell => new XElement(
            "a",
            new XAttribute("href", link(cell.Row, cell.Column)), new XAttribute("data-into", "cell"), Svg.Class("cell"),
            new XAttribute("aria-label", Said(cell)),
            Svg.Rect(cell.XMm - left, cell.YMm - up, cell.WidthMm + 2 * left, cell.HeightMm + 2 * up)));
    }

    private string Said(Cell cell) => Voice.Say("page.cell.link",
        ("place", GridCells.Place(cell.Row, cell.Column)), ("setting", ShownSetting.Of(reading.Plan, cell, reading.Plan.SettingsOf(cell))));
}
