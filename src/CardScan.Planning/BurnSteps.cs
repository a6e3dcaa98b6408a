using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Sorts what is burned by setting, so that a person types each setting once.</summary>
internal static class BurnSteps
{
    /// <summary>Colours of markers and labels, on every card; the cells' come after them.</summary>
    private const int MarkerColour = 0, LabelColour = 1, FirstCellColour = 2;

    /// <summary>
    /// The steps in the order of burning: markers where they are burned, labels, then each setting of the cells where the first of
    /// its cells has its turn. Markers are filled and labels lined: two steps, though their setting is one.
    /// </summary>
    internal static ValueList<BurnStep> Of(Plan plan)
    {
        IEnumerable<Cell> cells = plan.Burning is { } burning ? burning.Order.Select(i => plan.Cells[i]) : plan.Cells;
        BurnStep[] steps =
        [
            .. plan.Frame is null ? [Marks(plan, StepKind.Markers, MarkerColour)] : Array.Empty<BurnStep>(),
            Marks(plan, StepKind.Labels, LabelColour),
            .. cells.GroupBy(plan.SettingsOf).Select((alike, i) => new BurnStep
            {
                Order = 0,
                Colour = SettingColours.At(FirstCellColour + i),
                Kind = StepKind.Cells,
                IsFill = plan.Process == Process.Engrave && plan.Kind != CardKind.FocusLadder,
                Settings = alike.Key,
                Cells = alike.ToValueList(),
            }),
        ];
        return steps.Select((step, i) => step with { Order = i + 1 }).ToValueList();
    }

    private static BurnStep Marks(Plan plan, StepKind kind, int colour) => new()
    {
        Order = 0,
        Colour = SettingColours.At(colour),
        Kind = kind,
        IsFill = kind == StepKind.Markers,
        Settings = plan.Burning is not { Marks: var marks } ? null : new()
        {
            PowerPercent = marks.PowerPercent,
            SpeedMmPerMin = marks.SpeedMmPerMin,
            FocusOffsetMm = BurnJob.MarkFocusMm(plan),
            LineIntervalMm = kind == StepKind.Markers ? marks.LineIntervalMm : null,
        },
    };
}
