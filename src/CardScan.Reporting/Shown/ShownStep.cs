using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What is burned with one setting, in words.</summary>
internal static class ShownStep
{
    /// <summary>"r1 c4, r2 c5", rows and columns from 1; "markers", "labels".</summary>
    public static string What(BurnStep step) => step.Kind == StepKind.Cells
        ? string.Join(", ", step.Cells.Select(cell => ShownCell.Name(cell.Row, cell.Column)))
        : Voice.Say("page.steps.what", ("kind", $"{step.Kind}"));

    /// <summary>"fill" or "line".</summary>
    public static string Mode(BurnStep step) => Voice.Say("page.steps.mode", ("mode", step.IsFill ? "fill" : "line"));
}
