using System.Globalization;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>One drawing a setting, for programs that do not tell settings apart by colour.</summary>
internal static class StepDrawings
{
    /// <summary>The folder that they are in, beside the drawing of everything.</summary>
    internal const string FolderName = "by-setting";

    /// <summary>The drawings; their names sort in the order of burning.</summary>
    internal static IEnumerable<NewFile> Of(Plan plan, ValueList<BurnStep> steps)
    {
        string order = new('0', $"{steps.Count}".Length);
        return steps.Select(step => NewFile.OfText(
            Path.Combine(FolderName, $"{step.Order.ToString(order, CultureInfo.InvariantCulture)}-{NameOf(step, plan)}.svg"),
            CardPlanner.DrawSvg(plan, step)));
    }

    /// <summary>Speed and power, and what else differs on the card; only letters and digits that any system takes.</summary>
    private static string NameOf(BurnStep step, Plan plan)
    {
        if (step is not { Kind: StepKind.Cells, Settings: { } settings }) return $"{step.Kind}".ToLowerInvariant();
        return string.Concat(
            $"{Short(settings.SpeedMmPerMin)}mm-min-{Short(settings.PowerPercent)}percent",
            settings.Passes > 1 ? $"-{settings.Passes}passes" : "",
            Varies(Setting.LineIntervalMm) ? $"-interval{Short(settings.LineIntervalMm ?? 0)}mm" : "",
            Varies(Setting.FocusOffsetMm) ? $"-focus{Short(settings.FocusOffsetMm)}mm" : "");

        bool Varies(Setting setting) => plan.Columns.Setting == setting || plan.Rows.Setting == setting;
    }

    private static string Short(double value) => Math.Round(value, 3).ToString(CultureInfo.InvariantCulture);
}
