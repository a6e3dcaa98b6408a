using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The settings of a card by their colours, one line a colour, in the order of burning.</summary>
internal static class StepsCsv
{
    public static string Write(Plan plan, ValueList<BurnStep> steps) => CsvTable.Of<BurnStep>(
        [
            new(Voice.Say("csv.order"), step => step.Order),
            new(Voice.Say("csv.colour-code"), step => step.Colour),
            new(Voice.Say("csv.burned"), ShownStep.What),
            new(Voice.Say("csv.mode"), ShownStep.Mode),
            new(Voice.Say("csv.power"), step => step.Settings?.PowerPercent),
            new(Voice.Say("csv.speed"), step => step.Settings?.SpeedMmPerMin),
            new(Voice.Say("csv.speed-s"), step => step.Settings is { } settings ? Numbers.Rounded(settings.SpeedMmPerMin / 60, 6) : null),
            new(Voice.Say("csv.passes"), step => step.Settings?.Passes),
            new(Voice.Say("csv.interval"), step => step.Settings?.LineIntervalMm),
            new(Voice.Say("csv.focus"), step => step.Settings?.FocusOffsetMm),
            new(Voice.Say("csv.focus-step"), step => step.Kind == StepKind.Cells ? plan.Fixed.FocusStepMm ?? 0 : null),
            new(Voice.Say("csv.pass-pause"), step => step.Kind == StepKind.Cells ? plan.Fixed.PassPauseS ?? 0 : null),
            new(Voice.Say("csv.cell-pause"), step => step.Kind == StepKind.Cells ? plan.Burning?.CellPauseS ?? 0 : null),
            new(Voice.Say("csv.air"), _ => plan.Fixed.AirAssist is { } air ? Voice.Tell(air.ToFigure()) : null),
            new(Voice.Say("csv.card"), _ => plan.Number),
            new(Voice.Say("csv.material"), _ => plan.Material.Name),
            new(Voice.Say("csv.machine"), _ => plan.Machine.Name),
        ],
        steps);
}
