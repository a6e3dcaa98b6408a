using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>A cut card of known law.</summary>
/// <param name="Grid">Its settings.</param>
/// <param name="Law">Probability of a side against ln dose.</param>
/// <param name="HalfwayPowerPercent">Power that opens half of the sides along x at the card's middle speed.</param>
/// <param name="SpeedOverPower">Speed exponent over power exponent: 1 where only line energy counts.</param>
/// <param name="DoseRatio">Dose that sides along y need over that of sides along x.</param>
/// <param name="CellChance">Standard deviation of ln dose that all sides of a cell share.</param>
/// <param name="Disturbance">What else goes wrong.</param>
internal sealed record CutTruth(
    Grid Grid, SideLaw Law, double HalfwayPowerPercent, double SpeedOverPower, double DoseRatio, double CellChance, Disturbance Disturbance)
    : TrueCard(Grid)
{
    /// <summary>Below the reference speed char shields the bottom: going slower helps only half as much as the law says.</summary>
    public bool IsCharred { get; init; }

    /// <summary>What holds the cut whatever the dose.</summary>
    public CutFaults Faults { get; init; } = CutFaults.None;

    /// <summary>What closes it again.</summary>
    public UpperEnd UpperEnd { get; init; } = UpperEnd.None;

    /// <summary>Cells that this one card's patches hold.</summary>
    private HashSet<(int Row, int Column)> Patched { get; init; } = [];

    public override string Goal => Model.Goal.SureCut;

    /// <summary>Probability that all four sides are through, over the chance that they share and over the card's places.</summary>
    public override double Worth(double powerPercent, double speedMmPerMin)
    {
        double lnDose = LnDose(powerPercent, speedMmPerMin), lnSpeed = LnSpeed(speedMmPerMin), sum = 0;
        foreach (Place place in Places) sum += ThroughAt(lnDose, lnSpeed, place);
        return sum / Places.Length;
    }

    public override double WorthAtWeakest(double powerPercent, double speedMmPerMin)
    {
        double lnDose = LnDose(powerPercent, speedMmPerMin), lnSpeed = LnSpeed(speedMmPerMin);
        return Places.Min(place => ThroughAt(lnDose, lnSpeed, place));
    }

    /// <summary>The least power at which half of the sides of the harder way are through, over the card's places.</summary>
    public override double? BoundaryPower(double speedMmPerMin)
    {
        double lnSpeed = LnSpeed(speedMmPerMin);
        return LeastPower.Where(power =>
        {
            double lnDose = LnDose(power, speedMmPerMin);
            return Places.Average(place => HarderSide(lnDose + LnFactor(place), lnSpeed)) >= 0.5;
        });
    }

    /// <summary>The shared chance flattens the exponents that a model of single sides sees, so they have a truth only without it.</summary>
    public override IEnumerable<KeyValuePair<string, double>> ParametersOf(FittedModel model)
    {
        if (IsCharred || Law is not LogisticSides) return [];
        KeyValuePair<string, double> ratio = new("doseRatioAlongYToX", DoseRatio);
        return CellChance * Law.Steepness > 0.5 ? [ratio]
            : [ratio, new("powerExponent", Law.Steepness), new("speedExponent", Law.Steepness * SpeedOverPower)];
    }

    public override CellReading? PickByEye(Reading reading) => reading.Cells
        .Where(cell => cell.Through == Opening.Through)
        .OrderBy(cell => cell.Settings.PowerPercent / cell.Settings.SpeedMmPerMin).FirstOrDefault();

    public override bool IsSeen(CellReading cell) => cell.Through != Opening.Unseen && cell.Sides is { } sides
        && new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.All(side => side.State != SideState.Unseen);

    public override TrueCard On(Grid grid) => this with { Grid = grid, ReferenceSpeed = ReferenceSpeed };

    protected override TrueCard Drawn(Chance chance) => this with { Patched = Patches.Draw(Grid, Faults.PatchShare, chance) };

    protected override CellReading ReadCell(Place place, CellSettings settings, Chance chance)
    {
        double x = LnDose(settings.PowerPercent, settings.SpeedMmPerMin)
            + LnFactor(place) + Math.Log(Own.DoseFactor) + CellChance * chance.Normal();
        if (chance.Uniform() < Disturbance.Spoiled) x += Math.Log(0.6 + 0.8 * chance.Uniform());
        double y = x - Math.Log(DoseRatio), lnSpeed = LnSpeed(settings.SpeedMmPerMin);
        bool isHeld = Patched.Contains((place.Row, place.Column))
            || Happens(Faults.CellHeld, chance) || Happens(UpperEnd.CellClosed(x, lnSpeed), chance);
        Sides sides = new(Side(y), Side(y), Side(x), Side(x));
        SideReading[] all = [sides.Left, sides.Right, sides.Top, sides.Bottom];
        return new()
        {
            Row = place.Row,
            Column = place.Column,
            Settings = settings,
            Sides = sides,
            Through = all.All(side => side.State == SideState.Open) ? Opening.Through
                : all.All(side => side.State == SideState.Unseen) ? Opening.Unseen
                : all.All(side => side.State == SideState.Closed) ? Opening.Closed : Opening.Partial,
        };

        SideReading Side(double lnDose)
        {
            bool isSideHeld = isHeld || Happens(Faults.SideHeld, chance) || Happens(UpperEnd.SideClosed(lnDose, lnSpeed), chance);
            return ReadSide(lnDose, isSideHeld, Gaps.Hide(place.Row, place.Column), chance);
        }
    }

    private SideReading ReadSide(double lnDose, bool isHeld, bool isHidden, Chance chance)
    {
        double lacking = Law.LnDoseNeeded(Math.Clamp(chance.Uniform(), 1e-12, 1 - 1e-12)) - lnDose;
        if (chance.Uniform() < Disturbance.Unseen || isHidden) return new() { State = SideState.Unseen };
        bool isOpen = (lacking <= 0 && !isHeld) != Happens(Faults.Misread, chance);
        double open = isOpen ? 1
            : Disturbance.PartialWidth > 0 && !isHeld ? Math.Clamp(0.97 * (1 - lacking / Disturbance.PartialWidth), 0, 1)
            : 0;
        return new()
        {
            State = isOpen ? SideState.Open : open > 0 ? SideState.Partial : SideState.Closed,
            OpenFraction = open,
            SeenFraction = 1,
        };
    }

    /// <summary>Draws only where it can happen, so that cards without it stay as they were.</summary>
    private static bool Happens(double probability, Chance chance) => probability > 0 && chance.Uniform() < probability;

    private double ThroughAt(double lnDose, double lnSpeed, Place place)
    {
        const int HalfSteps = 24;
        double at = lnDose + LnFactor(place), sum = 0, weights = 0;
        for (int i = -HalfSteps; i <= HalfSteps; i++)
        {
            double z = 4.0 * i / HalfSteps, weight = Math.Exp(-z * z / 2), x = at + CellChance * z, y = x - Math.Log(DoseRatio);
            sum += weight * Math.Pow(Open(x, lnSpeed) * Open(y, lnSpeed), 2) * (1 - UpperEnd.CellClosed(x, lnSpeed));
            weights += weight;
        }

        return sum / weights * Faults.Free;
    }

    private double Open(double lnDose, double lnSpeed) => Law.Probability(lnDose) * (1 - UpperEnd.SideClosed(lnDose, lnSpeed));

    private double HarderSide(double x, double lnSpeed) =>
        Math.Min(Open(x, lnSpeed), Open(x - Math.Log(DoseRatio), lnSpeed)) * (1 - UpperEnd.CellClosed(x, lnSpeed));

    private double LnFactor(Place place) => Math.Log(Field.DoseFactor(place));

    private double LnSpeed(double speedMmPerMin) => Math.Log(speedMmPerMin / ReferenceSpeed);

    /// <summary>ln of a setting's dose over the one that opens half of the sides along x, before the card's places change it.</summary>
    public double LnDose(double powerPercent, double speedMmPerMin)
    {
        double lnSpeed = LnSpeed(speedMmPerMin);
        return Math.Log(Driver.Effective(powerPercent) / HalfwayPowerPercent)
            - SpeedOverPower * (IsCharred && lnSpeed < 0 ? lnSpeed / 2 : lnSpeed);
    }
}
