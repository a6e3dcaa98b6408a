using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Engraved cards: a law laid on the doses of a drawn grid, and what goes wrong besides.</summary>
internal sealed record EngraveCase(string Name, string About, Func<DoseSpan, Chance, MarkLaw> Law) : LawCase(Process.Engrave, Name, About)
{
    /// <summary>Range of the speed exponent.</summary>
    public (double From, double To) SpeedExponent { get; init; } = (0.8, 1.1);

    /// <summary>What else goes wrong.</summary>
    public Func<Chance, Disturbance> Disturbance { get; init; } = _ => Calibration.Disturbance.None;

    public override TrueCard Draw(GridSize size, Chance chance)
    {
        Grid grid = DrawnGrid.Of(Process, size, chance);
        double speedExponent = chance.Between(SpeedExponent.From, SpeedExponent.To),
            cellChance = chance.ByRatio(CellChances.From, CellChances.To);
        EngravedTruth blank = new(grid, Blank, speedExponent, cellChance, Calibration.Disturbance.None) { Driver = Driver(chance) };
        DoseSpan doses = DoseSpan.Of(grid.Settings.Select(s => blank.EffectiveDose(s.PowerPercent, s.SpeedMmPerMin)));
        return blank with
        {
            Law = Law(doses, chance),
            Field = FieldOf(chance),
            Disturbance = Disturbance(chance),
            Gaps = GapsOf(grid, chance)
        };
    }

    /// <summary>Stands in until the doses are known on which the law is laid.</summary>
    private static MarkLaw Blank { get; } = new CoatLaw(0, 0, 1, 1);
}
