using CardScan.Model;

namespace CardScan.Scoring.Tests;

/// <summary>A card burned by a known law: what a perfect reading of it would hold, and what chance makes of it.</summary>
internal sealed record SimulatedCard
{
    public double[] PowersPercent { get; init; } = [20, 35, 50, 65, 80, 95];

    public double[] SpeedsMmPerMin { get; init; } = [1000, 1500, 2200, 3300, 5000];

    public double RatedOpticalWatts { get; init; } = 10;

    public double LineIntervalMm { get; init; } = 0.1;

    /// <summary>Strength the curve heads for: below 1 for dark marks, any size for light ones.</summary>
    public double Plateau { get; init; } = 0.85;

    /// <summary>Energy at which marking begins, J/mm² at <see cref="ReferenceSpeed"/>.</summary>
    public double ThresholdDose { get; init; } = 0.15;

    /// <summary>Scale of the curve, J/mm² at <see cref="ReferenceSpeed"/>.</summary>
    public double ScaleDose { get; init; } = 1.0;

    public double Shape { get; init; } = 1.2;

    public double SpeedExponent { get; init; } = 0.9;

    public double ReferenceSpeed { get; init; } = 2200;

    public bool IsLighter { get; init; }

    /// <summary>Chance of a cell's strength, as a share of it.</summary>
    public double StrengthChance { get; init; }

    /// <summary>Error of the measured darkness, also stated as its standard error.</summary>
    public double DarknessError { get; init; } = 0.01;

    public double EffectiveDose(double powerPercent, double speedMmPerMin) =>
        powerPercent / 100 * RatedOpticalWatts * 60 / (speedMmPerMin * LineIntervalMm)
        * Math.Pow(speedMmPerMin / ReferenceSpeed, 1 - SpeedExponent);

    public double Strength(double powerPercent, double speedMmPerMin)
    {
        double above = Math.Max(0, EffectiveDose(powerPercent, speedMmPerMin) - ThresholdDose);
        return Plateau * (1 - Math.Exp(-Math.Pow(above / ScaleDose, Shape)));
    }

    public double Strongest => Strength(PowersPercent.Max(), SpeedsMmPerMin.Min());

    public double Share(double powerPercent, double speedMmPerMin) => Strength(powerPercent, speedMmPerMin) / Strongest;

    public double Share(CellAddress cell) => Share(PowersPercent[cell.Column], SpeedsMmPerMin[cell.Row]);

    /// <summary>The fastest full mark, by the law alone.</summary>
    public CellAddress FastestFullMark => Addresses
        .Where(cell => Share(cell) >= 0.95)
        .OrderByDescending(cell => SpeedsMmPerMin[cell.Row]).ThenBy(cell => PowersPercent[cell.Column]).First();

    public IEnumerable<CellAddress> Addresses =>
        from row in Enumerable.Range(0, SpeedsMmPerMin.Length)
        from column in Enumerable.Range(0, PowersPercent.Length)
        select new CellAddress(row, column);

    public Plan Plan => TestPlan.Of(Process.Engrave, PowersPercent, SpeedsMmPerMin, RatedOpticalWatts, LineIntervalMm);

    /// <summary>A reading of this card; the same seed gives the same chance.</summary>
    public Reading Read(int seed)
    {
        Chance chance = new(seed);
        Plan plan = Plan;
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell =>
            {
                CellSettings settings = plan.SettingsOf(cell);
                double strength = Strength(settings.PowerPercent, settings.SpeedMmPerMin) * (1 + StrengthChance * chance.Normal());
                double ratio = IsLighter ? 1 + strength : Math.Max(1 - strength, 0.005);
                return new CellReading
                {
                    Row = cell.Row,
                    Column = cell.Column,
                    Settings = settings,
                    Darkness = new(-Math.Log10(ratio) + DarknessError * chance.Normal(), DarknessError),
                };
            }).ToValueList(),
        };
    }
}
