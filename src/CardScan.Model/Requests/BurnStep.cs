namespace CardScan.Model;

/// <summary>What is burned in a step.</summary>
public enum StepKind
{
    /// <summary>The corner markers.</summary>
    Markers,

    /// <summary>The labels.</summary>
    Labels,

    /// <summary>Cells.</summary>
    Cells,
}

/// <summary>Everything on a card that is burned with one setting, and the colour that stands for it in the drawing.</summary>
public sealed record BurnStep
{
    /// <summary>Place in the order of burning, from 1.</summary>
    public required int Order { get; init; }

    /// <summary>Colour of everything in this step and of nothing else, <c>#RRGGBB</c>.</summary>
    public required string Colour { get; init; }

    /// <summary>Markers, labels or cells.</summary>
    public required StepKind Kind { get; init; }

    /// <summary>True where areas are filled with lines side by side, false where the beam follows the drawn lines.</summary>
    public required bool IsFill { get; init; }

    /// <summary>The setting; null for markers and labels of a plan that does not say how it is burned.</summary>
    public required CellSettings? Settings { get; init; }

    /// <summary>The cells, in the order of burning; empty for markers and labels.</summary>
    public ValueList<Cell> Cells { get; init; } = [];
}
