using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>An engraved card of known law.</summary>
/// <param name="Grid">Its settings.</param>
/// <param name="Law">Mark strength against effective dose.</param>
/// <param name="SpeedExponent">β: 1 where only energy counts.</param>
/// <param name="CellChance">Standard deviation of a cell's mark, as a share of it.</param>
/// <param name="Disturbance">What else goes wrong.</param>
internal sealed record EngravedTruth(Grid Grid, MarkLaw Law, double SpeedExponent, double CellChance, Disturbance Disturbance) : TrueCard(Grid)
{
    /// <summary>Stated standard error of the darkness: that of a good photo.</summary>
    private const double DarknessError = 0.01;

    private readonly double _middleSpeed = Grid.MiddleSpeed;
    private double? _strongest;

    public override string Goal => Model.Goal.FastestFullMark;

    private double Strongest => _strongest ??= Grid.Settings.Max(s => Strength(s.PowerPercent, s.SpeedMmPerMin));

    public double Strength(double powerPercent, double speedMmPerMin) => Law.Strength(EffectiveDose(powerPercent, speedMmPerMin));

    public override double Worth(double powerPercent, double speedMmPerMin) => Strength(powerPercent, speedMmPerMin) / Strongest;

    public override double? BoundaryPower(double speedMmPerMin)
    {
        const double Step = 1.002;
        for (double power = 1; power < 1000; power *= Step)
        {
            if (ReachesGoal(power, speedMmPerMin)) return power;
        }

        return null;
    }

    public override IEnumerable<KeyValuePair<string, double>> ParametersOf(FittedModel model) =>
    [
        new("strongestMark", Strongest),
        new("speedExponent", SpeedExponent),
        .. model.Name == Law.ModelName ? Law.Parameters : [],
    ];

    public override CellReading? PickByEye(Reading reading) => reading.Cells.MaxBy(cell => cell.Darkness!.Value);

    public override Reading Read(Chance chance)
    {
        Plan plan = Grid.Plan;
        return new() { Format = Reading.CurrentFormat, Plan = plan, Cells = plan.Cells.Select(cell => ReadCell(plan, cell, chance)).ToValueList() };
    }

    private CellReading ReadCell(Plan plan, Cell cell, Chance chance)
    {
        CellSettings settings = plan.SettingsOf(cell);
        double strength = Strength(settings.PowerPercent, settings.SpeedMmPerMin) * (1 + CellChance * chance.Normal());
        double error = DarknessError * Disturbance.ErrorOverStated * chance.Normal();
        if (chance.Uniform() < Disturbance.Spoiled) strength *= 0.6 + 0.8 * chance.Uniform();
        bool isLost = chance.Uniform() < Disturbance.Unseen;
        double darkness = isLost ? 0.3 * chance.Normal() : -Math.Log10(Math.Max(1 - strength, 0.005)) + error;
        return new()
        {
            Row = cell.Row,
            Column = cell.Column,
            Settings = settings,
            Darkness = new(darkness, DarknessError),
            Flags = isLost ? [CellFlag.Glare] : [],
        };
    }

    private double EffectiveDose(double powerPercent, double speedMmPerMin)
    {
        Dose dose = new CellSettings { PowerPercent = powerPercent, SpeedMmPerMin = speedMmPerMin, LineIntervalMm = 0.1 }
            .DoseOf(Process.Engrave, ratedOpticalWatts: 10)!;
        return dose.Value * Math.Pow(speedMmPerMin / _middleSpeed, 1 - SpeedExponent);
    }
}
