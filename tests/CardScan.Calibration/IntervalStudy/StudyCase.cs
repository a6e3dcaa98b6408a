using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>One line of the study: cards of one size, law, steepness and chance.</summary>
/// <param name="Process">Engrave or cut.</param>
/// <param name="Law">Name of the law.</param>
/// <param name="Side">Rows, and columns, of the grid.</param>
/// <param name="ChancePercent">Chance of a cell: percent of its mark, or of its dose.</param>
/// <param name="Steepness">Name of the steepness.</param>
/// <param name="Disturbance">What else goes wrong.</param>
internal sealed record StudyCase(Process Process, string Law, int Side, double ChancePercent, string Steepness, Disturbance Disturbance)
{
    public static readonly int[] Sides = [3, 4, 6, 8, 12, 20];
    public static readonly double[] ChancesPercent = [1, 2, 5];

    public string Name =>
        $"{Process.ToString().ToLowerInvariant()}, {Law}, {Side}x{Side}, {ChancePercent} %, "
        + $"{Steepness}{(Disturbance.Name == "" ? "" : $", {Disturbance.Name}")}";

    /// <summary>One card of this case: where its law lies is drawn, so that no grid happens to meet it just so.</summary>
    public TrueCard Draw(Chance chance) => Process == Process.Engrave ? DrawEngraved(chance) : DrawCut(chance);

    private EngravedTruth DrawEngraved(Chance chance)
    {
        double fullMarkDose = 2.0 * Math.Exp(0.28 * (2 * chance.Uniform() - 1));
        double speedExponent = 0.8 + 0.3 * chance.Uniform();
        return new(Grid.Square(Process, Side), MarkLaws.Of(Law, Steepness, fullMarkDose), speedExponent, ChancePercent / 100, Disturbance);
    }

    private CutTruth DrawCut(Chance chance)
    {
        double halfway = 62 * Math.Exp(0.2 * (2 * chance.Uniform() - 1));
        double speedOverPower = 0.85 + 0.2 * chance.Uniform();
        double doseRatio = 1 + 0.25 * chance.Uniform();
        return new(Grid.Square(Process, Side), SideLaws.Of(Law, Steepness), halfway, speedOverPower, doseRatio,
            ChancePercent / 100, Disturbance)
        {
            IsCharred = Law == SideLaws.Charred,
        };
    }
}
