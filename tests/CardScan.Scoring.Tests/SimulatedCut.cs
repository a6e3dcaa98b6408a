using CardScan.Model;

namespace CardScan.Scoring.Tests;

/// <summary>A cut card whose sides open at a known dose, with chance from side to side.</summary>
internal sealed record SimulatedCut
{
    public double[] PowersPercent { get; init; } = [40, 50, 60, 70, 80, 90, 100];

    public double[] SpeedsMmPerMin { get; init; } = [150, 200, 260, 340, 450];

    /// <summary>Steepness: logit of being open per unit of ln power.</summary>
    public double PowerExponent { get; init; } = 18;

    /// <summary>Speed exponent over power exponent; 1 where only line energy counts.</summary>
    public double SpeedOverPower { get; init; } = 0.95;

    /// <summary>Power that opens a side along x with probability ½ at 260 mm/min, percent.</summary>
    public double HalfwayPowerAt260 { get; init; } = 62;

    /// <summary>Dose that sides along y need over that of sides along x.</summary>
    public double DoseRatio { get; init; } = 1.12;

    /// <summary>Share of the sides with dose enough that a short bridge holds all the same.</summary>
    public double BridgeShare { get; init; }

    public double HalfwayPower(double speed, bool isAlongY) =>
        HalfwayPowerAt260 * Math.Pow(speed / 260, SpeedOverPower) * (isAlongY ? DoseRatio : 1);

    public double Probability(double power, double speed, bool isAlongY) =>
        1 / (1 + Math.Exp(-PowerExponent * Math.Log(power / HalfwayPower(speed, isAlongY))));

    /// <summary>Probability that all four sides are open.</summary>
    public double AllOpen(double power, double speed) => Math.Pow(Probability(power, speed, false) * Probability(power, speed, true), 2);

    /// <summary>A reading of this card; the same seed gives the same chance.</summary>
    /// <param name="seed">Seed.</param>
    /// <param name="shareTogether">Share of the sides that take their cell's chance instead of one of their own.</param>
    public Reading Read(int seed, double shareTogether = 0) =>
        Read(seed, TestPlan.Of(Process.Cut, PowersPercent, SpeedsMmPerMin), settings => settings.PowerPercent, shareTogether);

    /// <summary>A card of powers (columns) by another setting (rows) at 260 mm/min.</summary>
    /// <param name="setting">The other setting.</param>
    /// <param name="values">Its values.</param>
    /// <param name="powersPercent">Powers, percent.</param>
    /// <param name="effectivePower">Power that would do the same without the other setting, from power and value.</param>
    /// <param name="seed">Seed.</param>
    public Reading Along(Setting setting, double[] values, double[] powersPercent, Func<double, double, double> effectivePower, int seed)
    {
        Plan plan = TestPlan.Of(Process.Cut, powersPercent, values);
        plan = plan with { Rows = new() { Setting = setting, Values = values.ToValueList() }, Fixed = new() { SpeedMmPerMin = 260 } };
        return Read(seed, plan,
            settings => effectivePower(settings.PowerPercent, setting == Setting.Passes ? settings.Passes : settings.FocusOffsetMm), 0);
    }

    private Reading Read(int seed, Plan plan, Func<CellSettings, double> effectivePower, double shareTogether)
    {
        Chance chance = new(seed), bridges = new(-seed);
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell =>
            {
                CellSettings settings = plan.SettingsOf(cell);
                double? common = shareTogether > 0 ? chance.Uniform() : null;
                return new CellReading
                {
                    Row = cell.Row, Column = cell.Column, Settings = settings,
                    Sides = new(Side(settings, common, true), Side(settings, common, true), Side(settings, common, false),
                        Side(settings, common, false)),
                };
            }).ToValueList(),
        };

        SideReading Side(CellSettings settings, double? common, bool isAlongY)
        {
            double luck = common is { } shared && chance.Uniform() < shareTogether ? shared : chance.Uniform();
            bool isOpen = luck < Probability(effectivePower(settings), settings.SpeedMmPerMin, isAlongY);
            if (isOpen && bridges.Uniform() < BridgeShare)
                return new() { State = SideState.Partial, OpenFraction = 0.92, SeenFraction = 1, LongestBridgeMm = 0.64 };
            return new() { State = isOpen ? SideState.Open : SideState.Closed, OpenFraction = isOpen ? 1 : 0, SeenFraction = 1 };
        }
    }
}
