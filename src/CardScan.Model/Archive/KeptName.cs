namespace CardScan.Model;

/// <summary>What has a name that a maker may have typed in several ways.</summary>
public enum NamedKind
{
    /// <summary>A material.</summary>
    Material,

    /// <summary>A machine.</summary>
    Machine,

    /// <summary>A delivery of a material.</summary>
    Batch,
}

/// <summary>A name under which something is kept no more.</summary>
/// <param name="Kind">Of what.</param>
/// <param name="Old">The name, as its plans have it; of a batch with its material: <c>birch plywood/B-0412</c>.</param>
/// <param name="New">The name that its cards are kept under; of a batch without its material.</param>
/// <param name="Cards">How many cards have the old name.</param>
public sealed record KeptName(NamedKind Kind, string Old, string New, int Cards);

/// <summary>Two names that are likely one: they have the same key (<see cref="NameKey"/>).</summary>
/// <param name="Kind">Of what.</param>
/// <param name="Name">The name that fewer cards are kept under; of a batch with its material.</param>
/// <param name="Usual">The one that most are; of a batch without its material.</param>
/// <param name="Material">The material of a batch; null for others.</param>
public sealed record LikeNames(NamedKind Kind, string Name, string Usual, string? Material = null);
