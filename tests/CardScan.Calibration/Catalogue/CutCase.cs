using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Cut cards: a law laid on the doses of a drawn grid, and what goes wrong besides.</summary>
internal sealed record CutCase(string Name, string About, Func<double, SideLaw> Law) : LawCase(Process.Cut, Name, About)
{
    /// <summary>Logit a unit of ln dose: from 10 to 90 % of the sides over 44 % to 8 % more dose.</summary>
    private static readonly (double From, double To) Steepness = (12, 60);

    /// <summary>Most that sides along y need over what sides along x do: an oval beam.</summary>
    private const double MostDoseRatio = 1.25;

    /// <summary>Range of the speed exponent over the power exponent.</summary>
    public (double From, double To) SpeedOverPower { get; init; } = (0.85, 1.1);

    /// <summary>The dose that opens half of the sides along x, by the card's doses and by what the sides along y need more.</summary>
    public Func<DoseSpan, double, Chance, double> HalfwayDose { get; init; } = (doses, _, chance) => doses.At(chance.Between(0.25, 0.6));

    /// <summary>Below the middle speed slower helps half as much.</summary>
    public bool IsCharred { get; init; }

    /// <summary>What holds the cut whatever its dose.</summary>
    public Func<Chance, CutFaults> Faults { get; init; } = _ => CutFaults.None;

    /// <summary>What closes it again; by the card, and its doses over the one that opens half of the sides along x.</summary>
    public Func<CutTruth, DoseSpan, Chance, UpperEnd> UpperEnd { get; init; } = (_, _, _) => Calibration.UpperEnd.None;

    public override TrueCard Draw(GridSize size, Chance chance)
    {
        Grid grid = DrawnGrid.Of(Process, size, chance);
        SideLaw law = Law(chance.ByRatio(Steepness.From, Steepness.To));
        double speedOverPower = chance.Between(SpeedOverPower.From, SpeedOverPower.To), doseRatio = chance.Between(1, MostDoseRatio);
        double cellChance = chance.ByRatio(CellChances.From, CellChances.To);
        CutTruth blank = new(grid, law, 1, speedOverPower, doseRatio, cellChance, Disturbance.None) { Driver = Driver(chance) };

        // At a halfway power of 1 % a setting's dose is the power that would open half of the sides at the reference speed.
        DoseSpan doses = DoseSpan.Of(grid.Settings.Select(s => Math.Exp(blank.LnDose(s.PowerPercent, s.SpeedMmPerMin))));
        CutTruth card = blank with { HalfwayPowerPercent = HalfwayDose(doses, doseRatio, chance) };
        DoseSpan relative = new([.. doses.Doses.Select(dose => dose / card.HalfwayPowerPercent)]);
        return card with
        {
            IsCharred = IsCharred,
            Faults = Faults(chance),
            UpperEnd = UpperEnd(card, relative, chance),
            Field = FieldOf(chance),
            Gaps = GapsOf(grid, chance),
        };
    }
}
