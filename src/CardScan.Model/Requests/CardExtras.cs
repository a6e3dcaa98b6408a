namespace CardScan.Model;

/// <summary>What is written beside a card's plan, where a maker asks for other than the usual.</summary>
public sealed record CardExtras
{
    /// <summary>The most that a pointer may have, percent of full power: more is no pointer but burns.</summary>
    public const double MostPointerPercent = 3;

    /// <summary>True for a folder with one drawing a setting, beside the drawing of everything.</summary>
    public bool SplitsDrawing { get; init; }

    /// <summary>Power at which the outline is traced, percent of full power, above 0; null keeps the beam off.</summary>
    public double? PointerPercent { get; init; }
}
