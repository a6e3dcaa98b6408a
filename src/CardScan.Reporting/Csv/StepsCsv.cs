using System.Globalization;
using CardScan.Model;
using CsvHelper;

namespace CardScan.Reporting;

/// <summary>The settings of a card by their colours: RFC 4180, one line a colour, in the order of burning.</summary>
internal static class StepsCsv
{
    public static string Write(Plan plan, ValueList<BurnStep> steps)
    {
        (string Header, Func<BurnStep, object?> Value)[] columns =
        [
            (Voice.Say("csv.order"), step => step.Order),
            (Voice.Say("csv.colour-code"), step => step.Colour),
            (Voice.Say("csv.burned"), ShownStep.What),
            (Voice.Say("csv.mode"), ShownStep.Mode),
            (Voice.Say("csv.power"), step => step.Settings?.PowerPercent),
            (Voice.Say("csv.speed"), step => step.Settings?.SpeedMmPerMin),
            (Voice.Say("csv.speed-s"), step => step.Settings is { } settings ? Numbers.Rounded(settings.SpeedMmPerMin / 60, 6) : null),
            (Voice.Say("csv.passes"), step => step.Settings?.Passes),
            (Voice.Say("csv.interval"), step => step.Settings?.LineIntervalMm),
            (Voice.Say("csv.focus"), step => step.Settings?.FocusOffsetMm),
            (Voice.Say("csv.focus-step"), step => step.Kind == StepKind.Cells ? plan.Fixed.FocusStepMm ?? 0 : null),
            (Voice.Say("csv.pass-pause"), step => step.Kind == StepKind.Cells ? plan.Fixed.PassPauseS ?? 0 : null),
            (Voice.Say("csv.cell-pause"), step => step.Kind == StepKind.Cells ? plan.Burning?.CellPauseS ?? 0 : null),
            (Voice.Say("csv.air"), _ => plan.Fixed.AirAssist is { } air ? Voice.Tell(air.ToFigure()) : null),
            (Voice.Say("csv.card"), _ => plan.Number),
            (Voice.Say("csv.material"), _ => plan.Material.Name),
            (Voice.Say("csv.machine"), _ => plan.Machine.Name),
        ];
        using StringWriter text = new(CultureInfo.InvariantCulture);
        using (CsvWriter csv = CsvWriter.Create(text, CellsCsv.Options, leaveOpen: true))
        {
            csv.WriteHeader([.. columns.Select(column => column.Header)]);
            foreach (BurnStep step in steps)
            {
                foreach ((_, Func<BurnStep, object?> value) in columns) csv.WriteField(value(step));
                csv.EndRecord();
            }
        }

        return text.ToString();
    }
}
