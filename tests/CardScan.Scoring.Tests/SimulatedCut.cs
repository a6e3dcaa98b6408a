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

    public double HalfwayPower(double speed, bool isAlongY) =>
        HalfwayPowerAt260 * Math.Pow(speed / 260, SpeedOverPower) * (isAlongY ? DoseRatio : 1);

    public double Probability(double power, double speed, bool isAlongY) =>
        1 / (1 + Math.Exp(-PowerExponent * Math.Log(power / HalfwayPower(speed, isAlongY))));

    /// <summary>Probability that all four sides are open.</summary>
    public double AllOpen(double power, double speed) => Math.Pow(Probability(power, speed, false) * Probability(power, speed, true), 2);

    public Reading Read(int seed)
    {
        Chance chance = new(seed);
        Plan plan = TestPlan.Of(Process.Cut, PowersPercent, SpeedsMmPerMin);
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell =>
            {
                CellSettings settings = plan.SettingsOf(cell);
                return new CellReading
                {
                    Row = cell.Row, Column = cell.Column, Settings = settings,
                    Sides = new(Side(settings, true), Side(settings, true), Side(settings, false), Side(settings, false)),
                };
            }).ToValueList(),
        };

        SideReading Side(CellSettings settings, bool isAlongY)
        {
            bool isOpen = chance.Uniform() < Probability(settings.PowerPercent, settings.SpeedMmPerMin, isAlongY);
            return new() { State = isOpen ? SideState.Open : SideState.Closed, OpenFraction = isOpen ? 1 : 0, SeenFraction = 1 };
        }
    }
}
