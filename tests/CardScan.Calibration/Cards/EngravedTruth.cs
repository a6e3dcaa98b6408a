using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>An engraved card of known law.</summary>
/// <param name="Grid">Its settings.</param>
/// <param name="Law">Mark strength against effective dose.</param>
/// <param name="SpeedExponent">β: 1 where only energy counts.</param>
/// <param name="CellChance">Standard deviation of a cell's mark, as a share of it.</param>
/// <param name="Disturbance">What else goes wrong.</param>
internal sealed record EngravedTruth(Grid Grid, MarkLaw Law, double SpeedExponent, double CellChance, Disturbance Disturbance)
    : TrueCard(Grid)
{
    /// <summary>Stated standard error of the darkness: that of a good photo.</summary>
    public const double DarknessError = 0.01;

    /// <summary>Light of the darkest mark over that of bare material: char still shines a little.</summary>
    private const double LeastLight = 0.005;

    private double? _strongest;

    public override string Goal => Model.Goal.FastestFullMark;

    /// <summary>
    /// The strongest noise-free mark among the burned settings, averaged over the card's places; of rows and columns
    /// that no photo shows nobody can know.
    /// </summary>
    public double Strongest => _strongest ??= Grid.SettingsBut(Gaps).Max(s => Strength(s.PowerPercent, s.SpeedMmPerMin));

    /// <summary>Noise-free mark, averaged over the card's places.</summary>
    public double Strength(double powerPercent, double speedMmPerMin)
    {
        double dose = EffectiveDose(powerPercent, speedMmPerMin), sum = 0;
        foreach (Place place in Places) sum += StrengthAt(dose, place);
        return sum / Places.Length;
    }

    public override double Worth(double powerPercent, double speedMmPerMin) => Strength(powerPercent, speedMmPerMin) / Strongest;

    public override double WorthAtWeakest(double powerPercent, double speedMmPerMin)
    {
        double dose = EffectiveDose(powerPercent, speedMmPerMin);
        return Places.Min(place => StrengthAt(dose, place)) / Strongest;
    }

    public override double? BoundaryPower(double speedMmPerMin) => LeastPower.Where(power => ReachesGoal(power, speedMmPerMin));

    public override IEnumerable<KeyValuePair<string, double>> ParametersOf(FittedModel model) =>
    [
        new("strongestMark", Strongest),
        new("speedExponent", SpeedExponent),
        .. model.Name == Law.ModelName ? Law.Parameters : [],
    ];

    public override CellReading? PickByEye(Reading reading) => reading.Cells.Where(IsSeen).MaxBy(cell => cell.Darkness!.Value);

    public override bool IsSeen(CellReading cell) => cell.Darkness is not null && !cell.Flags.Any(CellFlag.IsDisqualifying);

    public override TrueCard On(Grid grid) => this with { Grid = grid, ReferenceSpeed = ReferenceSpeed, _strongest = null };

    public override TrueCard Among(IEnumerable<Grid> grids) =>
        this with { _strongest = grids.SelectMany(grid => grid.SettingsBut(Gaps)).Max(s => Strength(s.PowerPercent, s.SpeedMmPerMin)) };

    /// <summary>Effective dose of a setting, J/mm², before the card's places change it.</summary>
    public double EffectiveDose(double powerPercent, double speedMmPerMin)
    {
        Dose dose = new CellSettings { PowerPercent = Driver.Effective(powerPercent), SpeedMmPerMin = speedMmPerMin, LineIntervalMm = 0.1 }
            .DoseOf(Process.Engrave, ratedOpticalWatts: 10)!;
        return dose.Value * Math.Pow(speedMmPerMin / ReferenceSpeed, 1 - SpeedExponent);
    }

    protected override CellReading ReadCell(Place place, CellSettings settings, Chance chance)
    {
        double dose = EffectiveDose(settings.PowerPercent, settings.SpeedMmPerMin) * Own.DoseFactor;
        double deviation = Disturbance.TailFreedom is { } freedom ? chance.Student(freedom) : chance.Normal();
        double strength = StrengthAt(dose, place) * (1 + CellChance * deviation);
        double error = DarknessError * Disturbance.ErrorOverStated * chance.Normal();
        if (chance.Uniform() < Disturbance.Spoiled) strength *= 0.6 + 0.8 * chance.Uniform();
        bool isLost = chance.Uniform() < Disturbance.Unseen;
        double darkness = isLost ? 0.3 * chance.Normal() : Own.DarknessScale * -Math.Log10(Math.Max(1 - strength, LeastLight)) + error;
        CellReading cell = new() { Row = place.Row, Column = place.Column, Settings = settings };
        return Gaps.Hide(place.Row, place.Column) ? cell with { Flags = [CellFlag.OutOfFrame] }
            : cell with { Darkness = new(darkness, DarknessError), Flags = isLost ? [CellFlag.Glare] : [] };
    }

    private double StrengthAt(double effectiveDose, Place place) =>
        Law.Strength(effectiveDose * Field.DoseFactor(place)) * Field.MarkFactor(place);
}
