using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Chooses the settings of a first card, so that the energy a material needs very likely lies inside the grid.</summary>
/// <remarks>
/// The need is taken to be log-normal about the expected energy. The grid reaches from the lower to the upper limit of its
/// central four fifths (±1.2816 standard deviations, the 90th percentile of the normal distribution) at the highest power,
/// and somewhat beyond, since a limit is found only where settings on both sides of it were burned.
/// </remarks>
internal sealed record StartingGrid(StartingEnergy Energy, Machine Machine, Process Process)
{
    /// <summary>Share of the true needs that a grid is to hold.</summary>
    public const double Wanted = 0.8;

    /// <summary>The 90th percentile of the normal distribution: a central share of 0.8 lies within so many standard deviations.</summary>
    private const double Reach = 1.2816;

    /// <summary>
    /// How far a grid goes beyond the least and the most energy that may be needed, as factors (chosen here): a cell of a row or so.
    /// </summary>
    private const double BelowLeast = 1.15, BeyondMost = 1.3;

    /// <summary>
    /// Speeds next to each other differ by about this factor: fine enough for a setting within a sixth, with the powers between them.
    /// </summary>
    private const double SpeedStep = 1.45;

    private const int FewestSpeeds = 4, MostSpeeds = 8;

    /// <summary>Cuts slower than this per pass char more than a second pass does (common practice, no source), mm/min.</summary>
    private const double SlowestCut = 120;

    /// <summary>More passes than these are no way to cut (common practice, no source).</summary>
    private const int MostPasses = 10;

    /// <summary>Machines whose fastest feed is not known are taken to go as fast as this, mm/min (common practice, no source).</summary>
    private const double UsualFastest = 6000;

    /// <summary>
    /// Most energy that line ends burned from rest may get beyond their setting, as a share, and the length of such a line, mm.
    /// </summary>
    private const double ExcessFromRest = 0.1, LineMm = 8;

    /// <summary>Powers of a card, percent: cuts want much, fills show more of the law with a wider range.</summary>
    private double[] Powers => Process == Process.Cut ? [60, 70, 80, 90, 100] : [30, 45, 60, 75, 90];

    /// <summary>The settings that were not given; a given one stays as it is.</summary>
    /// <param name="given">Settings that were asked for.</param>
    /// <returns>The ranges, given ones included; null where no setting of this machine brings enough energy.</returns>
    public ValueList<SettingRange>? Around(IReadOnlyCollection<SettingRange> given)
    {
        double interval = Given(Setting.LineIntervalMm)?[^1] ?? LineIntervalMm;
        double[] powers = [.. Given(Setting.PowerPercent) ?? Powers.ToValueList()];
        double speedOfOnePass = SpeedFor(Energy.Energy, powers[^1], interval, passes: 1);
        int passes = Given(Setting.Passes) is { } asked ? (int)asked[^1]
            : Process == Process.Cut ? Math.Max(1, (int)Math.Ceiling(SlowestCut / speedOfOnePass))
            : 1;
        if (passes > MostPasses && Given(Setting.Passes) is null) return null;

        double slowest = SpeedFor(Most, powers[^1], interval, passes), fastest = SpeedFor(Least, powers[^1], interval, passes);
        double limit = Math.Min(Machine.FastestFeedMmPerMin ?? UsualFastest, FastestFromRest);
        if (fastest > limit && Given(Setting.PowerPercent) is null)
        {
            double less = Math.Max(limit / fastest, 0.1);
            powers = [.. powers.Select(power => Math.Max(1, Math.Round(power * less))).Distinct()];
            (slowest, fastest) = (slowest * less, fastest * less);
        }

        (slowest, fastest) = (Math.Max(Math.Min(slowest, limit / 2), MachineLimits.SlowestMmPerMin), Math.Min(fastest, limit));
        List<SettingRange> ranges =
        [
            new(Setting.PowerPercent, powers.ToValueList()),
            new(Setting.SpeedMmPerMin, Given(Setting.SpeedMmPerMin) ?? Speeds(slowest, fastest).ToValueList()),
        ];
        if (passes > 1) ranges.Add(new(Setting.Passes, [passes]));
        ranges.AddRange(given.Where(range => ranges.All(chosen => chosen.Setting != range.Setting)));
        if (Process == Process.Engrave && Given(Setting.LineIntervalMm) is null) ranges.Add(new(Setting.LineIntervalMm, [interval]));
        return ranges.ToValueList();

        ValueList<double>? Given(Setting setting) => given.FirstOrDefault(range => range.Setting == setting)?.Values;
    }

    /// <summary>
    /// Focus of a cut: half the thickness below the surface (common practice, no source), as deep as the machine's Z axis
    /// goes; 0 for fills.
    /// </summary>
    public double FocusOffsetMm(double? thicknessMm) => Process == Process.Cut && thicknessMm is { } thickness
        ? Math.Max(-Math.Round(thickness / 2, 1), Machine.PoweredZ?.LowestMm ?? double.NegativeInfinity)
        : 0;

    /// <summary>Lines as far apart as the beam is wide, in twentieths of a millimetre; a tenth where it is not known.</summary>
    private double LineIntervalMm =>
        Machine.BeamYMm is { } beam ? Math.Clamp(Math.Round(beam * 20) / 20, 0.05, 0.2) : CardPlanner.UsualLineIntervalMm;

    /// <summary>
    /// Where every line is burned from rest, its ends get more energy than the setting says, v / a · v / length more: no speed
    /// is planned that makes it more than a tenth, mm/min.
    /// </summary>
    private double FastestFromRest => Machine.BeamMode != BeamMode.FromRest ? double.PositiveInfinity
        : 60 * Math.Sqrt(ExcessFromRest * LineMm * (Machine.AccelerationMmPerS2 ?? MachineNeeds.UsualAccelerationMmPerS2));

    private double Least => Energy.Energy / Math.Pow(Energy.Factor, Reach) / BelowLeast;

    private double Most => Energy.Energy * MostOver(Energy);

    /// <summary>How far above the expected energy a first card goes, as a factor.</summary>
    public static double MostOver(StartingEnergy energy) => Math.Pow(energy.Factor, Reach) * BeyondMost;

    /// <summary>Speed at which a power brings an energy, mm/min.</summary>
    private double SpeedFor(double energy, double powerPercent, double intervalMm, int passes)
    {
        double watts = Machine.RatedOpticalWatts * powerPercent / 100;
        return 60 * watts * passes / (Process == Process.Cut ? energy : energy * intervalMm);
    }

    private static double[] Speeds(double slowest, double fastest)
    {
        int count = Math.Clamp((int)Math.Round(Math.Log(fastest / slowest) / Math.Log(SpeedStep)) + 1, FewestSpeeds, MostSpeeds);
        return [.. Enumerable.Range(0, count).Select(At).Distinct()];

        double At(int i) => Rounding.TwoFigures(slowest * Math.Pow(fastest / slowest, i / (count - 1.0)));
    }
}
