namespace CardScan.Calibration;

/// <summary>The figures of a group of cards.</summary>
internal sealed class LawTally(string name, IReadOnlyCollection<LawResult> results, double mostMisses)
{
    public string Name => name;

    public int Cards => results.Count;

    public SettingTally Burned { get; } = new([.. results.Select(result => result.Burned).OfType<StatedSetting>()]);

    public SettingTally Unburned { get; } = new([.. results.Select(result => result.Unburned).OfType<StatedSetting>()]);

    public double SettingShare => Burned.Count / (double)Cards;

    /// <summary>Share of the cards with four good cells or more that get no setting.</summary>
    public double SilentShare => results.Count(result => result.IsSilent) / (double)results.Count(result => result.HasGood);

    public int WithGood => results.Count(result => result.HasGood);

    public double BoundaryRightShare =>
        results.Sum(result => result.Boundary.Right) / (double)results.Sum(result => result.Boundary.Stated);

    public double BoundaryTooLowShare =>
        results.Sum(result => result.Boundary.TooLow) / (double)results.Sum(result => result.Boundary.Stated);

    /// <summary>The limits that this group breaks, in a word each.</summary>
    public string Breaks => string.Join(", ", BrokenLimits());

    public string UnburnedBreaks => Unburned.ClearMissShare > mostMisses ? "**misses**" : "";

    private IEnumerable<string> BrokenLimits()
    {
        if (results.Count(result => result.Fault is not null) is > 0 and int faults) yield return $"**{faults} broke down**";
        if (Burned.ClearMissShare > mostMisses) yield return "**misses**";
        if (SilentShare > LawLimits.Silent) yield return "**silent**";
    }
}

/// <summary>The figures of a group of settings.</summary>
internal sealed class SettingTally(IReadOnlyCollection<StatedSetting> settings)
{
    private readonly StatedSetting[] _relied = [.. settings.Where(setting => setting.IsReliedOn)];

    public int Count => settings.Count;

    /// <summary>Settings stated at 90 % or more, or without a probability.</summary>
    public int ReliedOn => _relied.Length;

    public double MeanStated =>
        _relied.Where(setting => setting.Stated is not null).Select(setting => setting.Stated!.Value).DefaultIfEmpty(double.NaN).Average();

    public double MissShare => Share(_relied, setting => !setting.ReachesGoal);

    /// <summary>Share of all settings, relied on or not, that miss the goal.</summary>
    public double AnyMissShare => Share(settings, setting => !setting.ReachesGoal);

    public double NarrowMissShare => Share(_relied, setting => setting.MissesNarrowly);

    public double ClearMissShare => Share(_relied, setting => setting.MissesClearly);

    public double ShortOfStatedShare => Share(_relied, setting => setting.FallsShortOfStated);

    public double WeakShare => Share(_relied, setting => setting.IsWeak);

    public double MissAtWeakestShare => Share(_relied, setting => setting.WorthAtWeakest < TrueCard.GoalLimit);

    public double MeanWorth => _relied.Select(setting => setting.Worth).DefaultIfEmpty(double.NaN).Average();

    public double IntervalRightShare =>
        Share([.. settings.Where(setting => setting.IsIntervalRight is not null)], setting => setting.IsIntervalRight!.Value);

    /// <summary>Settings stated inside a range: how many, and the share that reaches the goal.</summary>
    public (int Count, double Reached) Between(double from, double below) =>
        Reached([.. settings.Where(setting => setting.Stated >= from && setting.Stated < below)]);

    public (int Count, double Reached) Unstated => Reached([.. settings.Where(setting => setting.Stated is null)]);

    private static (int, double) Reached(StatedSetting[] some) => (some.Length, Share(some, setting => setting.ReachesGoal));

    private static double Share(IReadOnlyCollection<StatedSetting> of, Func<StatedSetting, bool> isSo) =>
        of.Count == 0 ? double.NaN : of.Count(isSo) / (double)of.Count;
}
