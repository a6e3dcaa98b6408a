namespace CardScan.Model;

/// <summary>What a reading must obey beyond the kinds of its fields; its plan is checked by <see cref="PlanRules"/>.</summary>
/// <remarks>
/// Only what would spoil the scoring or its report: the cells' own settings and measured values count, whoever wrote the
/// file, so fingerprints, pictures' sizes, doses and the plan's axes are not held against them.
/// </remarks>
public static class ReadingRules
{
    private const string ShareRange = "0 to 1";

    private static readonly string NumberRange = $"0 to {Plan.Numbers - 1}";

    /// <summary>Larger than any error of a measured value in any of the units; squares of it still are numbers.</summary>
    private const double MostError = 1e6;

    /// <summary>Checks a reading whose plan obeys <see cref="PlanRules"/>.</summary>
    /// <param name="reading">The reading.</param>
    /// <returns>The first fault, or null.</returns>
    public static Refusal? Check(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        string? fault = Faults(reading).FirstOrDefault();
        return fault is null ? null : Refusal.OfInput("reading-rule", $"$.{fault}", "correct the reading, or read the photos again with cardscan read");
    }

    private static IEnumerable<string> Faults(Reading reading)
    {
        foreach (string fault in PlaceFaults(reading)) yield return fault;
        foreach (string fault in reading.Cells.SelectMany((cell, i) => CellFaults(cell, $"cells[{i}]"))) yield return fault;
        foreach (string fault in ErrorFaults([("kerf.acrossXMm", reading.Kerf?.AcrossXMm), ("kerf.acrossYMm", reading.Kerf?.AcrossYMm)])) yield return fault;
        foreach (string fault in reading.Recommendations.SelectMany((recommendation, i) => RecommendationFaults(recommendation, $"recommendations[{i}]", reading.Plan))) yield return fault;
        foreach (string fault in (reading.Joined ?? []).SelectMany((card, i) => JoinedFaults(card, $"joined[{i}]"))) yield return fault;
        foreach (string fault in ModelFaults(reading)) yield return fault;
        foreach (string fault in CurveFaults(reading.Tones?.Curve, "tones.curve", reading.Plan)) yield return fault;
    }

    /// <summary>Every cell lies on the grid, and is there once.</summary>
    private static IEnumerable<string> PlaceFaults(Reading reading)
    {
        Dictionary<(int, int), int> seen = [];
        foreach ((int i, CellReading cell) in reading.Cells.Index())
        {
            string path = $"cells[{i}]";
            foreach (string fault in AddressFaults(cell.Row, cell.Column, path, reading.Plan)) yield return fault;
            if (!seen.TryAdd((cell.Row, cell.Column), i)) yield return $"{path} has the same row and column as cells[{seen[(cell.Row, cell.Column)]}]: expected one cell a place";
        }
    }

    private static IEnumerable<string> AddressFaults(int row, int column, string path, Plan plan)
    {
        if (row < 0 || row >= plan.Rows.Values.Count) yield return $"{path}.row is {row}: expected 0 to {plan.Rows.Values.Count - 1}";
        if (column < 0 || column >= plan.Columns.Values.Count) yield return $"{path}.column is {column}: expected 0 to {plan.Columns.Values.Count - 1}";
    }

    private static IEnumerable<string> CellFaults(CellReading cell, string path) =>
    [
        .. SettingFaults(cell.Settings, $"{path}.settings"),
        .. ErrorFaults(
        [
            ($"{path}.darkness", cell.Darkness), ($"{path}.lightness", cell.Lightness), ($"{path}.contrast", cell.Contrast),
            ($"{path}.deltaE2000", cell.DeltaE2000), ($"{path}.evenness", cell.Evenness), ($"{path}.haloMm", cell.HaloMm),
            ($"{path}.lineWidths.acrossXMm", cell.LineWidths?.AcrossXMm), ($"{path}.lineWidths.acrossYMm", cell.LineWidths?.AcrossYMm),
        ]),
        .. SideFaults(cell.Sides, $"{path}.sides"),
    ];

    private static IEnumerable<string> SettingFaults(CellSettings settings, string path)
    {
        foreach (Setting setting in Enum.GetValues<Setting>())
        {
            if (ValueOf(settings, setting) is { } value && PlanRules.RangeFault(setting, value) is { } expected)
                yield return $"{path}.{PlanRules.NameOf(setting)} is {value}: expected {expected}";
        }
    }

    /// <param name="measured">Values by path.</param>
    /// <param name="isModel">A parameter that a card does not determine has an error without a limit.</param>
    private static IEnumerable<string> ErrorFaults(IEnumerable<(string Path, Measured? Value)> measured, bool isModel = false) => measured
        .Where(item => item.Value is { } value && !(value.StandardError >= 0 && (isModel || value.StandardError <= MostError)))
        .Select(item => $"{item.Path}.standardError is {item.Value!.StandardError}: expected 0 or more{(isModel ? "" : $", at most {MostError}")}");

    private static IEnumerable<string> SideFaults(Sides? sides, string path)
    {
        if (sides is null) yield break;
        foreach ((string name, SideReading side) in new[] { ("left", sides.Left), ("right", sides.Right), ("top", sides.Top), ("bottom", sides.Bottom) })
        {
            if (!IsShare(side.OpenFraction)) yield return $"{path}.{name}.openFraction is {side.OpenFraction}: expected {ShareRange}";
            if (!IsShare(side.SeenFraction)) yield return $"{path}.{name}.seenFraction is {side.SeenFraction}: expected {ShareRange}";
        }
    }

    private static IEnumerable<string> RecommendationFaults(Recommendation recommendation, string path, Plan plan)
    {
        if (!IsShare(recommendation.Confidence)) yield return $"{path}.confidence is {recommendation.Confidence}: expected {ShareRange}";
        if (!IsShare(recommendation.Unburned?.Confidence)) yield return $"{path}.unburned.confidence is {recommendation.Unburned?.Confidence}: expected {ShareRange}";
        if (recommendation.EarlierCell is { } burned)
            foreach (string fault in CellFaults(burned, $"{path}.earlierCell")) yield return fault;
        if (recommendation.Card is { } card && !IsNumber(card)) yield return $"{path}.card is {card}: expected {NumberRange}";
        // The grid of an earlier card may be larger than this one's.
        if (recommendation.OwnCell is not { } cell) yield break;
        foreach (string fault in AddressFaults(cell.Row, cell.Column, $"{path}.cell", plan)) yield return fault;
    }

    private static IEnumerable<string> JoinedFaults(JoinedCard card, string path)
    {
        if (!IsNumber(card.Number)) yield return $"{path}.number is {card.Number}: expected {NumberRange}";
        if (card.CellsUsed < 0) yield return $"{path}.cellsUsed is {card.CellsUsed}: expected 0 or more";
        foreach (string fault in ErrorFaults([($"{path}.doseFactor", card.DoseFactor), ($"{path}.markFactor", card.MarkFactor)])) yield return fault;
    }

    private static bool IsNumber(int number) => number is >= 0 and < Plan.Numbers;

    private static IEnumerable<string> ModelFaults(Reading reading)
    {
        if (reading.Model is not { } model) yield break;
        foreach (string fault in ErrorFaults(model.Parameters.Select(item => ($"model.parameters.{item.Key}", (Measured?)item.Value)), isModel: true)) yield return fault;
        foreach (string fault in CurveFaults(model.Curve, "model.curve", reading.Plan)) yield return fault;
    }

    private static IEnumerable<string> CurveFaults(FittedCurve? curve, string path, Plan plan) =>
        (curve?.Cells ?? []).SelectMany((cell, i) => AddressFaults(cell.Row, cell.Column, $"{path}.cells[{i}]", plan));

    private static double? ValueOf(CellSettings settings, Setting setting) => setting switch
    {
        Setting.PowerPercent => settings.PowerPercent,
        Setting.SpeedMmPerMin => settings.SpeedMmPerMin,
        Setting.Passes => settings.Passes,
        Setting.FocusOffsetMm => settings.FocusOffsetMm,
        _ => settings.LineIntervalMm,
    };

    private static bool IsShare(double? value) => value is null or (>= 0 and <= 1);
}
