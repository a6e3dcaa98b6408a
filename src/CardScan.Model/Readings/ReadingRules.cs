using CardScan.Language;

namespace CardScan.Model;

/// <summary>What a reading must obey beyond the kinds of its fields; its plan is checked by <see cref="PlanRules"/>.</summary>
/// <remarks>
/// Only what would spoil the scoring or its report: the cells' own settings and measured values count, whoever wrote the
/// file, so fingerprints, pictures' sizes, doses and the plan's axes are not held against them.
/// </remarks>
public static class ReadingRules
{
    private static readonly Phrase ShareRange = Expected.Between(0, 1), NumberRange = Expected.Between(0, Plan.Numbers - 1);

    /// <summary>Larger than any error of a measured value in any of the units; squares of it still are numbers.</summary>
    private const double MostError = 1e6;

    /// <summary>Checks a reading whose plan obeys <see cref="PlanRules"/>.</summary>
    /// <param name="reading">The reading.</param>
    /// <returns>The first fault, or null.</returns>
    public static Refusal? Check(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return Faults(reading).FirstOrDefault() is { } fault
            ? Refusal.OfInput(Codes.ReadingRule, ("fault", fault.Under("$").ToFigure()))
            : null;
    }

    private static IEnumerable<FieldFault> Faults(Reading reading)
    {
        foreach (FieldFault fault in PlaceFaults(reading)) yield return fault;
        foreach (FieldFault fault in reading.Cells.SelectMany((cell, i) => CellFaults(cell, $"cells[{i}]", reading.Plan)))
            yield return fault;
        CardKerf? kerf = reading.Kerf;
        foreach (FieldFault fault in ErrorFaults([("kerf.acrossXMm", kerf?.AcrossXMm), ("kerf.acrossYMm", kerf?.AcrossYMm)]))
            yield return fault;
        foreach ((int i, Recommendation recommendation) in reading.Recommendations.Index())
            foreach (FieldFault fault in RecommendationFaults(recommendation, $"recommendations[{i}]", reading.Plan)) yield return fault;
        foreach (FieldFault fault in (reading.Joined ?? []).SelectMany((card, i) => JoinedFaults(card, $"joined[{i}]"))) yield return fault;
        foreach (FieldFault fault in ModelFaults(reading)) yield return fault;
        foreach (FieldFault fault in CurveFaults(reading.Tones?.Curve, "tones.curve", reading.Plan)) yield return fault;
    }

    /// <summary>Every cell lies on the grid, and is there once.</summary>
    private static IEnumerable<FieldFault> PlaceFaults(Reading reading)
    {
        Dictionary<(int, int), int> seen = [];
        foreach ((int i, CellReading cell) in reading.Cells.Index())
        {
            string path = $"cells[{i}]";
            foreach (FieldFault fault in PlanRules.AddressFaults(cell.Row, cell.Column, path, reading.Plan)) yield return fault;
            if (!seen.TryAdd((cell.Row, cell.Column), i)) yield return PlanRules.SamePlace(path, seen[(cell.Row, cell.Column)]);
        }
    }

    private static IEnumerable<FieldFault> CellFaults(CellReading cell, string path, Plan plan) =>
    [
        .. plan.IsPrinted ? [] : SettingFaults(cell.Settings, $"{path}.settings"),
        .. ErrorFaults(
        [
            ($"{path}.darkness", cell.Darkness), ($"{path}.lightness", cell.Lightness), ($"{path}.contrast", cell.Contrast),
            ($"{path}.deltaE2000", cell.DeltaE2000), ($"{path}.evenness", cell.Evenness), ($"{path}.haloMm", cell.HaloMm),
            ($"{path}.lineWidths.acrossXMm", cell.LineWidths?.AcrossXMm), ($"{path}.lineWidths.acrossYMm", cell.LineWidths?.AcrossYMm),
        ]),
        .. SideFaults(cell.Sides, $"{path}.sides"),
    ];

    private static IEnumerable<FieldFault> SettingFaults(CellSettings settings, string path)
    {
        foreach (Setting setting in Enum.GetValues<Setting>())
        {
            if (settings.ValueOf(setting) is { } value && PlanRules.ExpectedOf(setting, value) is { } expected)
                yield return FieldFault.Of($"{path}.{PlanRules.NameOf(setting)}", value, expected);
        }
    }

    /// <param name="measured">Values by path.</param>
    /// <param name="isModel">A parameter that a card does not determine has an error without a limit.</param>
    private static IEnumerable<FieldFault> ErrorFaults(
        IEnumerable<(string Path, Measured? Value)> measured, bool isModel = false) => measured
        .Where(item => item.Value is { } value && !(value.StandardError >= 0 && (isModel || value.StandardError <= MostError)))
        .Select(item => FieldFault.Of($"{item.Path}.standardError", item.Value!.StandardError,
            isModel ? Expected.NotNegative : Expected.NotNegativeTo(MostError)));

    private static IEnumerable<FieldFault> SideFaults(Sides? sides, string path)
    {
        if (sides is null) yield break;
        (string, SideReading)[] named = [("left", sides.Left), ("right", sides.Right), ("top", sides.Top), ("bottom", sides.Bottom)];
        foreach ((string name, SideReading side) in named)
        {
            foreach (FieldFault fault in ShareFaults(side.OpenFraction, $"{path}.{name}.openFraction")) yield return fault;
            foreach (FieldFault fault in ShareFaults(side.SeenFraction, $"{path}.{name}.seenFraction")) yield return fault;
        }
    }

    private static IEnumerable<FieldFault> RecommendationFaults(Recommendation recommendation, string path, Plan plan)
    {
        foreach (FieldFault fault in ShareFaults(recommendation.Confidence, $"{path}.confidence")) yield return fault;
        foreach (FieldFault fault in ShareFaults(recommendation.Unburned?.Confidence, $"{path}.unburned.confidence")) yield return fault;
        if (recommendation.EarlierCell is { } burned)
            foreach (FieldFault fault in CellFaults(burned, $"{path}.earlierCell", plan)) yield return fault;
        if (recommendation.Card is { } card && !IsNumber(card)) yield return FieldFault.Of($"{path}.card", card, NumberRange);
        // The grid of an earlier card may be larger than this one's.
        if (recommendation.OwnCell is not { } cell) yield break;
        foreach (FieldFault fault in PlanRules.AddressFaults(cell.Row, cell.Column, $"{path}.cell", plan)) yield return fault;
    }

    private static IEnumerable<FieldFault> JoinedFaults(JoinedCard card, string path)
    {
        if (!IsNumber(card.Number)) yield return FieldFault.Of($"{path}.number", card.Number, NumberRange);
        if (card.CellsUsed < 0) yield return FieldFault.Of($"{path}.cellsUsed", card.CellsUsed, Expected.NotNegative);
        foreach (FieldFault fault in ErrorFaults([($"{path}.doseFactor", card.DoseFactor), ($"{path}.markFactor", card.MarkFactor)]))
            yield return fault;
    }

    private static bool IsNumber(int number) => number is >= 0 and < Plan.Numbers;

    private static IEnumerable<FieldFault> ModelFaults(Reading reading)
    {
        if (reading.Model is not { } model) yield break;
        IEnumerable<(string, Measured?)> parameters =
            model.Parameters.Select(item => ($"model.parameters.{item.Key}", (Measured?)item.Value));
        foreach (FieldFault fault in ErrorFaults(parameters, isModel: true)) yield return fault;
        foreach (FieldFault fault in CurveFaults(model.Curve, "model.curve", reading.Plan)) yield return fault;
    }

    private static IEnumerable<FieldFault> CurveFaults(FittedCurve? curve, string path, Plan plan) =>
        (curve?.Cells ?? []).SelectMany((cell, i) => PlanRules.AddressFaults(cell.Row, cell.Column, $"{path}.cells[{i}]", plan));

    private static IEnumerable<FieldFault> ShareFaults(double? value, string path) =>
        value is null or (>= 0 and <= 1) ? [] : [FieldFault.Of(path, value.Value, ShareRange)];
}
