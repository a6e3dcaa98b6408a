using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The cells of a reading by their place, and what the recommendations say of them.</summary>
internal sealed class GridCells
{
    private readonly Dictionary<(int Row, int Column), CellReading> _readings = [];
    private readonly Dictionary<(int Row, int Column), List<int>> _recommended = [];

    public GridCells(Reading reading)
    {
        Reading = reading;
        foreach (CellReading cell in reading.Cells) _readings[(cell.Row, cell.Column)] = cell;
        Settings = NumberedSetting.Of(reading);
        foreach (NumberedSetting setting in Settings)
        {
            if (setting.First.OwnCell is not { } cell) continue;
            if (!_recommended.TryGetValue((cell.Row, cell.Column), out List<int>? numbers))
                _recommended[(cell.Row, cell.Column)] = numbers = [];
            numbers.Add(setting.Number);
        }
    }

    /// <summary>The reading.</summary>
    public Reading Reading { get; }

    /// <summary>The recommended settings under their numbers.</summary>
    public ValueList<NumberedSetting> Settings { get; }

    /// <summary>What was measured at a place; null where the reading has no such cell.</summary>
    public CellReading? At(int row, int column) => _readings.GetValueOrDefault((row, column));

    /// <summary>Numbers, from 1, of the settings that name this cell; empty where none does.</summary>
    public IReadOnlyList<int> Numbers(int row, int column) =>
        _recommended.TryGetValue((row, column), out List<int>? numbers) ? numbers : [];

    /// <summary>The same as text, "1" or "1, 2"; null where none does.</summary>
    public string? Badge(int row, int column) => Numbers(row, column) is { Count: > 0 } numbers ? Voice.Tell(List(numbers)) : null;

    /// <summary>A cell by its place, counted from 1: "row 2, column 5".</summary>
    public static Phrase Place(int row, int column) => new("page.place", ("row", row + 1), ("column", column + 1));

    /// <summary>
    /// The cell that a recommendation names, on an earlier card with its number: "row 2, column 5 of card 17"; null where it
    /// names none.
    /// </summary>
    public static Phrase? Place(Recommendation recommendation) => recommendation switch
    {
        { Cell: null } => null,
        { Cell: { } at, Card: { } card } => new("page.place", ("row", at.Row + 1), ("column", at.Column + 1), ("card", card)),
        { Cell: { } at } => Place(at.Row, at.Column),
    };
}
