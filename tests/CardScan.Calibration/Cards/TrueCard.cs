using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>A card whose law is known: what it would teach without chance, and readings of it with chance.</summary>
internal abstract record TrueCard(Grid Grid)
{
    /// <summary>Figure from which on a setting reaches the goal: 95 % of the strongest mark, through with 95 % probability.</summary>
    public const double GoalLimit = 0.95;

    private const int SearchSteps = 600;

    /// <summary>The goal whose recommendation is judged.</summary>
    public abstract string Goal { get; }

    /// <summary>The true figure that the goal is judged by, 0 to 1.</summary>
    public abstract double Worth(double powerPercent, double speedMmPerMin);

    /// <summary>True least power of the boundary at a speed, percent; also past 100. Null where no power will do.</summary>
    public abstract double? BoundaryPower(double speedMmPerMin);

    /// <summary>True parameters under the scoring's names, if it fitted this model; those that no model defines alone come always.</summary>
    public abstract IEnumerable<KeyValuePair<string, double>> ParametersOf(FittedModel model);

    /// <summary>A reading of this card.</summary>
    public abstract Reading Read(Chance chance);

    /// <summary>What someone without any model takes from the card; null where it shows nothing to take.</summary>
    public abstract CellReading? PickByEye(Reading reading);

    public bool ReachesGoal(double powerPercent, double speedMmPerMin) => Worth(powerPercent, speedMmPerMin) >= GoalLimit;

    /// <summary>Speed of the fastest burned setting that truly reaches the goal, mm/min; null where none does.</summary>
    public double? FastestBurned => Grid.Settings.Where(s => ReachesGoal(s.PowerPercent, s.SpeedMmPerMin)).Max(s => (double?)s.SpeedMmPerMin);

    /// <summary>The same among all settings inside the card's range: full power, speeds by a quarter of a percent.</summary>
    public double? FastestInRange
    {
        get
        {
            double most = Grid.PowersPercent.Max(), slow = Grid.SpeedsMmPerMin.Min(), fast = Grid.SpeedsMmPerMin.Max();
            return Enumerable.Range(0, SearchSteps + 1)
                .Select(i => fast * Math.Pow(slow / fast, (double)i / SearchSteps))
                .Cast<double?>().FirstOrDefault(speed => ReachesGoal(most, speed!.Value));
        }
    }
}
