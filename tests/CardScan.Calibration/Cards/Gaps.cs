namespace CardScan.Calibration;

/// <summary>Rows and columns of a card that no photo shows.</summary>
internal sealed record Gaps(IReadOnlyCollection<int> Rows, IReadOnlyCollection<int> Columns)
{
    public static Gaps None { get; } = new([], []);

    public bool Hide(int row, int column) => Rows.Contains(row) || Columns.Contains(column);
}
