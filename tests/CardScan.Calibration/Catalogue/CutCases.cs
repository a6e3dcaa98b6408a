namespace CardScan.Calibration;

/// <summary>The cutting laws of the study. The first is the scoring's own.</summary>
internal static class CutCases
{
    public static readonly CutCase[] All =
    [
        new("logistic", "logistic in ln dose: the scoring's own law, but for the chance that a cell's sides share", Logistic),
        new("probit with threshold", "never through below a threshold", steepness => new ThresholdProbitSides(steepness)),
        new("dose law broken by char", "below the middle speed slower helps half as much", Logistic) { IsCharred = true },
        new("probit", "thinner tails", steepness => new ProbitSides(steepness)),
        new("cauchit", "much heavier tails", steepness => new CauchitSides(steepness)),
        new("complementary log-log", "begins early, ends all at once", steepness => new LopsidedSides(steepness)),
        new("logistic in plain dose", "in the dose, not in its logarithm", steepness => new PlainDoseSides(steepness)),
        new("misread sides", "1 to 3 % of the sides told wrongly; the cut is as it is", Logistic)
        {
            Faults = chance => new() { Misread = chance.Between(0.01, 0.03) }
        },
        new("sides held at random", "1 to 5 % of the sides, at any dose", Logistic)
        {
            Faults = chance => new() { SideHeld = chance.Between(0.01, 0.05) }
        },
        new("cells held at random", "1 to 5 % of the cells, wholly, at any dose", Logistic)
        {
            Faults = chance => new() { CellHeld = chance.Between(0.01, 0.05) }
        },
        new("cells held in patches", "patches of 2 × 2 and 3 × 3 cells, 6 to 14 % of the cells", Logistic)
        {
            Faults = chance => new() { PatchShare = chance.Between(0.06, 0.14) }
        },
        new("welds by dose, narrow window", "closed again at 1.3 to 1.8 times the dose that cuts", Logistic)
        {
            HalfwayDose = Early,
            UpperEnd = (_, _, chance) => WeldsByDose(chance, 1.3, 1.8),
        },
        new("welds by dose, wide window", "closed again at 2 to 3.5 times the dose that cuts", Logistic)
        {
            HalfwayDose = Early,
            UpperEnd = (_, _, chance) => WeldsByDose(chance, 2, 3.5),
        },
        new("welds by speed, narrow window", "closed again over the slower 50 to 75 % of the card's speeds", Logistic)
        {
            HalfwayDose = Early,
            UpperEnd = (card, _, chance) => WeldsBySpeed(card, chance, 0.5, 0.75),
        },
        new("welds by speed, wide window", "closed again over the slower 10 to 40 % of the card's speeds", Logistic)
        {
            HalfwayDose = Early,
            UpperEnd = (card, _, chance) => WeldsBySpeed(card, chance, 0.1, 0.4),
        },
        new("char shuts", "30 to 80 % of the cells flame and fill at the highest doses", Logistic)
        {
            UpperEnd = (_, doses, chance) =>
                new CharShuts(Math.Log(doses.At(chance.Between(0.65, 0.9))), chance.ByRatio(0.03, 0.2), chance.Between(0.3, 0.8)),
        },
        new("dead zone", "no light below 5 to 20 % of power, linear above", Logistic) { Driver = Drivers.DeadZone },
        new("power levels off", "light bends towards 60 to 110 % of full", Logistic) { Driver = Drivers.Levelling },
        new("speed exponent 0.4 to 1.2", "speed counts less, or more, than power", Logistic) { SpeedOverPower = (0.4, 1.2) },
        new("stripes", "every other row or column gets 3 to 8 % less dose", Logistic) { Field = Fields.StripesOfDose },
        new("tilt", "8 to 20 % of dose from edge to edge, any way", Logistic) { Field = Fields.Tilt },
        new("weaker corner", "25 % of dose lost towards one corner", Logistic) { Field = Fields.Corner },
        new("rows and columns not seen", "one in five, at least one of either", Logistic) { HasGaps = true },
        new("all through", "half of the harder sides open 0 to 25 % below the weakest cell", Logistic)
        {
            HalfwayDose = (doses, ratio, chance) => doses.Least * chance.Between(0.75, 1) / ratio,
        },
        new("none through", "half of the sides open at 1.05 to 2 times the highest dose", Logistic)
        {
            HalfwayDose = (doses, _, chance) => doses.Most * chance.Between(1.05, 2)
        },
    ];

    private static SideLaw Logistic(double steepness) => new LogisticSides(steepness);

    /// <summary>Low enough that the card also holds what lies above the window.</summary>
    private static Func<DoseSpan, double, Chance, double> Early => (doses, _, chance) => doses.At(chance.Between(0.1, 0.35));

    private static WeldsByDose WeldsByDose(Chance chance, double from, double to) =>
        new(Math.Log(chance.ByRatio(from, to)), chance.ByRatio(15, 50));

    private static WeldsBySpeed WeldsBySpeed(CutTruth card, Chance chance, double from, double to)
    {
        double[] speeds = card.Grid.SpeedsMmPerMin;
        double limit = speeds.Min() * Math.Pow(speeds.Max() / speeds.Min(), chance.Between(from, to));
        return new(Math.Log(limit / card.ReferenceSpeed), chance.ByRatio(15, 50));
    }
}
