using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>Fills in what a request leaves open: power and speed, and sizes that fit on the card and into half an hour.</summary>
internal static class FirstCard
{
    /// <summary>The request with nothing left open; or why power and speed cannot be chosen.</summary>
    internal static Outcome<PlanRequest> Of(CardRequest request)
    {
        PlanRequest asked = request.Plan;
        Outcome<Start?> start = StartOf(request);
        if (start.IsRefused) return start.Refusal!;
        if (start.Value is not { } chosen) return request.MayFitToCard ? CardPlanner.FitToCard(asked) : asked;

        PlanRequest plan = asked with { Settings = chosen.Settings, Start = chosen.Energy };
        if (request.MayFitToCard) plan = WithFewerSpeeds(plan, isGiven: asked.Settings.Any(IsSpeed));
        return request.MayShrinkCells ? Shrunk(plan, asked) : plan;
    }

    /// <summary>
    /// The largest cells that do not take long, or else the smallest that are still easy to read, and then every other power: the
    /// energies that the card reaches stay.
    /// </summary>
    private static PlanRequest Shrunk(PlanRequest plan, PlanRequest asked)
    {
        double[] smaller = plan.Process == Process.Cut ? [CardPlanner.SmallestProposedCutMm] : [6, 5];
        double[] sides = [plan.CellSideMm, .. smaller.Where(side => side < plan.CellSideMm)];
        PlanRequest[] choices = [.. sides.Select(side => plan with { CellSideMm = side })];
        if (asked.Settings.All(range => range.Setting != Setting.PowerPercent))
            choices = [.. choices, choices[^1] with { Settings = plan.Settings.Select(EveryOtherPower).ToValueList() }];
        return choices.FirstOrDefault(choice => CardPlanner.MakePlan(choice) is not { IsRefused: false, Value: var made }
            || !CardPlanner.Estimate(made).IsLong) ?? choices[^1];
    }

    private static SettingRange EveryOtherPower(SettingRange range) => range.Setting != Setting.PowerPercent || range.Values.Count < 5
        ? range
        : range with { Values = range.Values.Where((_, i) => i % 2 == 0).ToValueList() };

    /// <summary>
    /// Sizes that fit on the card; where none do, as many speeds of a first card as there is room for, four or more.
    /// </summary>
    private static PlanRequest WithFewerSpeeds(PlanRequest plan, bool isGiven)
    {
        double[] speeds = [.. plan.Settings.Single(IsSpeed).Values];
        IEnumerable<PlanRequest> choices = Enumerable.Range(0, isGiven ? 1 : Math.Max(1, speeds.Length - 3))
            .Select(fewer => CardPlanner.FitToCard(fewer == 0 ? plan : plan with
            {
                Settings = [.. plan.Settings
                    .Select(range => IsSpeed(range) ? range with { Values = Spread(speeds.Length - fewer) } : range)],
            }));
        return choices.FirstOrDefault(choice => CardPlanner.MakePlan(choice).Refusal?.Code != Codes.PlanSize) ?? choices.Last();

        ValueList<double> Spread(int count) => [.. Enumerable.Range(0, count)
            .Select(i => Rounding.TwoFigures(speeds[0] * Math.Pow(speeds[^1] / speeds[0], i / (count - 1.0))))];
    }

    private static bool IsSpeed(SettingRange range) => range.Setting == Setting.SpeedMmPerMin;

    /// <summary>The settings of a first card where power or speed is left open: from the archive's cards, else from the table.</summary>
    private static Outcome<Start?> StartOf(CardRequest request)
    {
        PlanRequest plan = request.Plan;
        if (plan.Kind == CardKind.FocusLadder || (IsGiven(Setting.PowerPercent) && IsGiven(Setting.SpeedMmPerMin))) return (Start?)null;
        // Nobody is to be led to a better name of something that must not be burned.
        if (CardPlanner.DangerOf(plan.Material.Name, plan.AcceptedRisk) is { } danger) return danger;
        Outcome<Start> start = CardPlanner.StartFor(new()
        {
            Process = plan.Process,
            Material = plan.Material,
            Machine = plan.Machine,
            Given = plan.Settings,
            Known = request.Archive is { } place ? KnownEnergy.Find(place, plan.Material, plan.Machine, plan.Process) : null,
        });
        return start.IsRefused ? start.Refusal! : start.Value;

        bool IsGiven(Setting setting) => plan.Settings.Any(range => range.Setting == setting);
    }
}
