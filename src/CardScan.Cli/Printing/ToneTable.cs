using CardScan.Model;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Tones on the terminal: one line a tone, columns apart by tabs where a program reads.</summary>
internal static class ToneTable
{
    // L* ends at its white, here the bare material: what is lighter has a lightness relative to it, and no L*.
    private static string Quantity(ToneScale tones) => tones.IsLighterThanBare ? "relative lightness" : "L*";

    public static void Print(Terminal terminal, ToneScale tones)
    {
        string caption = $"Tones, even steps in {Quantity(tones)} (bare material 100); from, to: where 95 % of areas burned anew lie";
        string[] headings = ["tone", "speed mm/min", "power %", Quantity(tones), "from", "to"];
        string[][] rows = [.. tones.Steps.Select((step, i) => (string[])
        [
            $"{i + 1}", Figures.Plain(step.SpeedMmPerMin), Figures.Plain(step.PowerPercent), Tenths(step.Lightness), Tenths(step.Low), Tenths(step.High),
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

    private static string Tenths(double value) => value.ToString("0.0", System.Globalization.CultureInfo.InvariantCulture);
}
