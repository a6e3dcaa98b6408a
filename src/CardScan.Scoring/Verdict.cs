using CardScan.Model;

namespace CardScan.Scoring;

/// <summary>What the scoring of one card found.</summary>
internal sealed record Verdict
{
    public ValueList<Recommendation> Recommendations { get; init; } = [];

    public ValueList<Advice> Advice { get; init; } = [];

    public ValueList<BoundaryPoint>? Boundary { get; init; }

    public FittedModel? Model { get; init; }

    public FocusResult? Focus { get; init; }

    /// <summary>The earlier cards that were scored with it; null where there were none.</summary>
    public ValueList<JoinedCard>? Joined { get; init; }

    /// <summary>Cells of the reading's own card that do not fit the others.</summary>
    public ValueList<CellAddress> Outliers { get; init; } = [];

    public Reading ApplyTo(Reading reading) => reading with
    {
        Recommendations = Recommendations,
        Advice = Advice,
        Boundary = Boundary,
        Model = Model,
        Focus = Focus,
        Joined = Joined,
        Cells = reading.Cells.Select(Flagged).ToValueList(),
    };

    private CellReading Flagged(CellReading cell) =>
        Outliers.Contains(new(cell.Row, cell.Column)) ? cell with { Flags = [.. cell.Flags, CellFlag.Outlier] } : cell;
}
