namespace CardScan.Scoring.Cutting;

/// <summary>All that a card says of cuts: its fast end, its slow end where it has one, and what holds cells anyway.</summary>
/// <param name="Fast">Whether a setting has energy enough.</param>
/// <param name="Slow">Whether it is still through with so much; null where no end was seen.</param>
/// <param name="Anyway">Cells that were held though neither end holds them.</param>
/// <param name="Bridges">Sides that a short bridge held.</param>
internal sealed record CutLaw(CutModel Fast, SlowEnd? Slow, HeldAnyway Anyway, Bridges Bridges)
{
    /// <summary>Probability that nothing but energy decides over a cell.</summary>
    public Estimate OtherwiseAt(CutCell cell) => Anyway.NoneAt(cell).And(Bridges.NoneOnFourSides);

    /// <summary>Null where the card holds nothing to compare.</summary>
    public static CutLaw? Of(CutCard card)
    {
        if (CutModel.Fit(card) is not { } fast) return null;
        SlowEnd? slow = SlowEnd.Of(card);
        return new(fast, slow, HeldAnyway.On(card, fast, slow), Bridges.On(card));
    }
}
