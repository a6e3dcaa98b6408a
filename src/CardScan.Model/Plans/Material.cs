namespace CardScan.Model;

/// <summary>The material of a card.</summary>
public sealed record Material : Extensible
{
    /// <summary>Name, as the maker says it.</summary>
    public required string Name { get; init; }

    /// <summary>Thickness, mm, greater than zero.</summary>
    public double? ThicknessMm { get; init; }

    /// <summary>The delivery it came with.</summary>
    public string? Batch { get; init; }

    /// <summary>The maker's notes.</summary>
    public string? Notes { get; init; }

    /// <summary>A setting known to mark it clearly without charring deep: for markers and labels.</summary>
    public MarkSetting? Mark { get; init; }
}

/// <summary>A setting that marks clearly.</summary>
public sealed record MarkSetting : Extensible
{
    /// <summary>Percent of full power.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmPerMin { get; init; }

    /// <summary>Line interval of the markers' fill, mm; in a plan it is always given.</summary>
    public double? LineIntervalMm { get; init; }
}

/// <summary>A material kept in a file of its own (<c>cardscan-material/1</c>).</summary>
/// <param name="Format"><see cref="CurrentFormat"/>.</param>
/// <param name="Material">The material.</param>
public sealed record MaterialProfile(string Format, Material Material) : Extensible
{
    /// <summary>The format this version writes.</summary>
    public const string CurrentFormat = "cardscan-material/1";
}
