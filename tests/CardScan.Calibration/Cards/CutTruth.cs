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
    /// <summary>Below the middle speed char shields the bottom: going slower helps only half as much as the law says.</summary>
    public bool IsCharred { get; init; }

    private readonly double _middleSpeed = Grid.MiddleSpeed;

    public override string Goal => Model.Goal.SureCut;

    /// <summary>Probability that all four sides are through, over the chance that they share.</summary>
    public override double Worth(double powerPercent, double speedMmPerMin)
    {
        const int HalfSteps = 24;
        double x = LnDose(powerPercent, speedMmPerMin), y = x - Math.Log(DoseRatio);
        double sum = 0, weights = 0;
        for (int i = -HalfSteps; i <= HalfSteps; i++)
        {
            double z = 4.0 * i / HalfSteps, weight = Math.Exp(-z * z / 2);
            sum += weight * Math.Pow(Law.Probability(x + CellChance * z) * Law.Probability(y + CellChance * z), 2);
            weights += weight;
        }

        return sum / weights;
    }

    public override double? BoundaryPower(double speedMmPerMin) =>
        HalfwayPowerPercent * Math.Exp(LnSpeedPart(speedMmPerMin)) * Math.Max(1, DoseRatio);

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

    public override Reading Read(Chance chance)
    {
        Plan plan = Grid.Plan;
        return new() { Format = Reading.CurrentFormat, Plan = plan, Cells = plan.Cells.Select(cell => ReadCell(plan, cell, chance)).ToValueList() };
    }

    private CellReading ReadCell(Plan plan, Cell cell, Chance chance)
    {
        CellSettings settings = plan.SettingsOf(cell);
        double x = LnDose(settings.PowerPercent, settings.SpeedMmPerMin) + CellChance * chance.Normal();
        if (chance.Uniform() < Disturbance.Spoiled) x += Math.Log(0.6 + 0.8 * chance.Uniform());
        double y = x - Math.Log(DoseRatio);
        Sides sides = new(Side(y, chance), Side(y, chance), Side(x, chance), Side(x, chance));
        SideReading[] all = [sides.Left, sides.Right, sides.Top, sides.Bottom];
        return new()
        {
            Row = cell.Row,
            Column = cell.Column,
            Settings = settings,
            Sides = sides,
            Through = all.All(side => side.State == SideState.Open) ? Opening.Through
                : all.All(side => side.State == SideState.Unseen) ? Opening.Unseen
                : all.All(side => side.State == SideState.Closed) ? Opening.Closed : Opening.Partial,
        };
    }

    private SideReading Side(double lnDose, Chance chance)
    {
        double lacking = Law.LnDoseNeeded(Math.Clamp(chance.Uniform(), 1e-12, 1 - 1e-12)) - lnDose;
        if (chance.Uniform() < Disturbance.Unseen) return new() { State = SideState.Unseen };
        double open = lacking <= 0 ? 1 : Disturbance.PartialWidth > 0 ? Math.Clamp(0.97 * (1 - lacking / Disturbance.PartialWidth), 0, 1) : 0;
        return new()
        {
            State = lacking <= 0 ? SideState.Open : open > 0 ? SideState.Partial : SideState.Closed,
            OpenFraction = open,
            SeenFraction = 1,
        };
    }

    private double LnDose(double powerPercent, double speedMmPerMin) => Math.Log(powerPercent / HalfwayPowerPercent) - LnSpeedPart(speedMmPerMin);

    private double LnSpeedPart(double speedMmPerMin)
    {
        double lnSpeed = Math.Log(speedMmPerMin / _middleSpeed);
        return SpeedOverPower * (IsCharred && lnSpeed < 0 ? lnSpeed / 2 : lnSpeed);
    }
}
