using CardScan.Model;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Tones on the terminal: one line a tone, columns apart by tabs where a program reads.</summary>
internal static class ToneTable
{
    private const string Caption = "Tones, even steps in L* (bare material 100); from, to: where 95 % of areas burned anew lie";

    private static readonly string[] Headings = ["tone", "speed mm/min", "power %", "L*", "from", "to"];

    public static void Print(Terminal terminal, ToneScale tones)
    {
        string[][] rows = [.. tones.Steps.Select((step, i) => (string[])
        [
            $"{i + 1}", Figures.Plain(step.SpeedMmPerMin), Figures.Plain(step.PowerPercent), Tenths(step.Lightness), Tenths(step.Low), Tenths(step.High),
        ])];
        if (!terminal.IsOutputTerminal)
        {
            terminal.ShowRaw(string.Concat([Caption + "\n", .. rows.Prepend(Headings).Select(row => string.Join('\t', row) + "\n")]));
            return;
        }

        Table table = new() { Border = TableBorder.Simple, Title = new(Caption) };
        foreach (string heading in Headings) table.AddColumn(new TableColumn(Markup.Escape(heading)).RightAligned());
        foreach (string[] row in rows) table.AddRow(row);
        terminal.Show(table);
    }

    private static string Tenths(double value) => value.ToString("0.0", System.Globalization.CultureInfo.InvariantCulture);
}
