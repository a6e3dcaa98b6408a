namespace CardScan.Model;

/// <summary>What the energy that a first card is centred on rests on.</summary>
public enum StartBasis
{
    /// <summary>A card of the same material that this machine burned.</summary>
    SameMaterial,

    /// <summary>A card of a like material that this machine burned.</summary>
    LikeMaterial,

    /// <summary>A published figure.</summary>
    Published,

    /// <summary>The energy that heating and decomposing the kerf takes.</summary>
    Computed,

    /// <summary>Common practice, no source.</summary>
    Practice,

    /// <summary>A figure from memory.</summary>
    Memory,
}

/// <summary>The optical energy that a material is expected to need, and how well that is known.</summary>
/// <param name="Energy">J/mm² of a filled area for the full mark, J/mm of a line for the cut; greater than 0.</param>
/// <param name="Factor">
/// The true need lies within this factor of it, up or down, with a probability of about two in three; greater than 1.
/// </param>
/// <param name="Basis">What it rests on.</param>
/// <param name="Source">A publication, how it was computed, or the name of a reading.</param>
public sealed record StartingEnergy(double Energy, double Factor, StartBasis Basis, string Source) : Extensible
{
    /// <summary>The kind of material that the name was taken for; absent where a card told the energy.</summary>
    public string? Kind { get; init; }
}
