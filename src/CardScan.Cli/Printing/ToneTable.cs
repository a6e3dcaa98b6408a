using CardScan.Language;
using CardScan.Model;
using Spectre.Console;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>Tones on the terminal: one line a tone, columns apart by tabs where a program reads.</summary>
internal static class ToneTable
{
    public static void Print(Terminal terminal, ToneScale tones)
    {
        // L* ends at its white, here the bare material: what is lighter has a lightness relative to it, and no L*.
        string quantity = Voice.Say("terminal.tone-quantity", ("lighter", Is(tones.IsLighterThanBare)));
        string caption = Voice.Say("terminal.tones-caption", ("quantity", quantity));
        string[] headings =
        [
            TablePrinter.Heading("tone"), TablePrinter.Heading("speed"), TablePrinter.Heading("power"), quantity,
            TablePrinter.Heading("from"), TablePrinter.Heading("to"),
        ];
        string[][] rows = [.. tones.Steps.Select((step, i) => (string[])
        [
            $"{i + 1}", Voice.TellBare(Speed(step.SpeedMmPerMin)), Voice.TellBare(Power(step.PowerPercent)),
            Lightness(step.Lightness), Lightness(step.Low), Lightness(step.High),
        ])];
        if (!terminal.IsOutputTerminal)
        {
            terminal.ShowRaw(string.Concat([caption + "\n", .. rows.Prepend(headings).Select(row => string.Join('\t', row) + "\n")]));
            return;
        }

        Table table = new() { Border = TableBorder.Simple, Title = new(caption) };
        foreach (string heading in headings) table.AddColumn(new TableColumn(Markup.Escape(heading)).RightAligned());
        foreach (string[] row in rows) table.AddRow(row);
        terminal.Show(table);
    }

    private static string Lightness(double value) => Voice.TellBare(In(Unit.Lightness, value));
}
