using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>A card whose law is known: what it would teach without chance, and readings of it with chance.</summary>
internal abstract record TrueCard(Grid Grid)
{
    /// <summary>Figure from which on a setting reaches the goal: 95 % of the strongest mark, through with 95 % probability.</summary>
    public const double GoalLimit = 0.95;

    private const int SearchSteps = 600;

    private readonly double? _referenceSpeed;
    private Place[]? _places;

    /// <summary>The goal whose recommendation is judged.</summary>
    public abstract string Goal { get; }

    /// <summary>What the machine makes of a power.</summary>
    public Driver Driver { get; init; } = Driver.Linear;

    /// <summary>What the card's places change.</summary>
    public PlaceField Field { get; init; } = PlaceField.None;

    /// <summary>What no photo shows.</summary>
    public Gaps Gaps { get; init; } = Gaps.None;

    /// <summary>What differs on all of this card from others of its material. Not part of the truth.</summary>
    public CardChance Own { get; init; } = CardChance.None;

    /// <summary>Speed at which the law's doses are stated, mm/min; the card's middle speed where nothing else is given.</summary>
    public double ReferenceSpeed { get => _referenceSpeed ?? Grid.MiddleSpeed; init => _referenceSpeed = value; }

    /// <summary>Places over which the truth of a setting is averaged.</summary>
    protected Place[] Places => _places ??= Field == PlaceField.None ? [new(0, 0, 0.5, 0.5)] : Place.Over(Grid);

    /// <summary>The true figure that the goal is judged by, 0 to 1, averaged over all that is chance by place.</summary>
    public abstract double Worth(double powerPercent, double speedMmPerMin);

    /// <summary>The same at the place of the card where it is least.</summary>
    public abstract double WorthAtWeakest(double powerPercent, double speedMmPerMin);

    /// <summary>True least power of the boundary at a speed, percent; also past 100. Null where no power will do.</summary>
    public abstract double? BoundaryPower(double speedMmPerMin);

    /// <summary>
    /// True parameters under the scoring's names, if it fitted this model; those that no model defines alone come always.
    /// </summary>
    public abstract IEnumerable<KeyValuePair<string, double>> ParametersOf(FittedModel model);

    /// <summary>What someone without any model takes from the card; null where it shows nothing to take.</summary>
    public abstract CellReading? PickByEye(Reading reading);

    /// <summary>True where a cell was measured, all of it.</summary>
    public abstract bool IsSeen(CellReading cell);

    /// <summary>Other settings on the same material and machine.</summary>
    public abstract TrueCard On(Grid grid);

    /// <summary>This card, judged as one of several: where a goal is a share of the strongest, of the strongest of all of them.</summary>
    public virtual TrueCard Among(IEnumerable<Grid> grids) => this;

    /// <summary>This card with chances of its own, none of which is part of the truth.</summary>
    public TrueCard With(CardChance chance) => this with { Own = chance };

    /// <summary>A reading of this card.</summary>
    public Reading Read(Chance chance)
    {
        Plan plan = Grid.Plan;
        TrueCard drawn = Drawn(chance);
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell => drawn.ReadCell(Place.Of(Grid, cell.Row, cell.Column), plan.SettingsOf(cell), chance))
                .ToValueList(),
        };
    }

    public bool ReachesGoal(double powerPercent, double speedMmPerMin) => Worth(powerPercent, speedMmPerMin) >= GoalLimit;

    /// <summary>Speed of the fastest burned setting that truly reaches the goal, mm/min; null where none does.</summary>
    public double? FastestBurned =>
        Grid.Settings.Where(s => ReachesGoal(s.PowerPercent, s.SpeedMmPerMin)).Max(s => (double?)s.SpeedMmPerMin);

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

    /// <summary>This card with what chance decides for all of its cells together.</summary>
    protected virtual TrueCard Drawn(Chance chance) => this;

    protected abstract CellReading ReadCell(Place place, CellSettings settings, Chance chance);
}
