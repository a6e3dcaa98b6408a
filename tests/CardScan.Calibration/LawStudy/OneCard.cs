namespace CardScan.Calibration;

/// <summary>One card of the law study in a line, and its reading as a file, so that it can be looked at by itself.</summary>
internal static class OneCard
{
    /// <summary>Cards worth a look: a relied-on setting that misses clearly, or none where there is plenty to recommend.</summary>
    public static bool IsBad(LawResult result) => result.IsSilent || IsBad(result.Burned) || IsBad(result.Unburned);

    public static string InWords(SizedLaw law, int seed, int index, LawResult result)
    {
        string burned = result.Fault is { } fault ? $"the scoring breaks down, {fault}"
            : result.Burned is { } setting ? InWords(setting) : $"no setting, {result.GoodCells} good cells";
        string between = result.Unburned is { } other ? $"; between cells {InWords(other)}" : "";
        return $"--only \"{law.Name}\" --seed {seed} --card {index}: {burned}{between}";
    }

    private static bool IsBad(StatedSetting? setting) => setting is { IsReliedOn: true, MissesClearly: true };

    private static string InWords(StatedSetting setting) =>
        $"{setting.SpeedMmPerMin:0.#} mm/min at {setting.PowerPercent:0.#} %, "
        + $"stated {(setting.Stated is { } stated ? $"{stated:0.000}" : "nothing")}, "
        + $"true {setting.Worth:0.000}{(setting.IsIntervalRight is false ? ", interval wrong" : "")}";
}
