using System.Globalization;
using System.Text;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class CellsCsvTests
{
    [Fact]
    public void An_engraved_reading_comes_back_number_for_number()
    {
        Reading reading = Samples.Engraved();
        Dictionary<string, string>[] rows = Rows(CardReport.Csv(reading));

        Assert.Equal(reading.Cells.Count, rows.Length);
        for (int i = 0; i < rows.Length; i++)
        {
            CellReading cell = reading.Cells[i];
            Assert.Equal("7", rows[i]["card"]);
            Assert.Equal(cell.Row, Number(rows[i]["row (from 0)"]));
            Assert.Equal(cell.Column, Number(rows[i]["column (from 0)"]));
            Assert.Equal(cell.Settings.PowerPercent, Number(rows[i]["power (%)"]));
            Assert.Equal(cell.Settings.SpeedMmPerMin, Number(rows[i]["speed (mm/min)"]));
            Assert.Equal(cell.Settings.Passes, Number(rows[i]["passes"]));
            Assert.Equal(cell.Settings.FocusOffsetMm, Number(rows[i]["focus offset (mm)"]));
            Assert.Equal(cell.Settings.LineIntervalMm, Number(rows[i]["line interval (mm)"]));
            Assert.Equal(cell.Dose!.Value, Number(rows[i]["dose (J/mm2)"])!.Value, 1e-5 * cell.Dose.Value);
            Assert.Equal(cell.Darkness, Measured(rows[i], "darkness (density)"));
            Assert.Equal(cell.Lightness, Measured(rows[i], "lightness (L*)"));
            Assert.Equal(cell.Contrast, Measured(rows[i], "contrast"));
            Assert.Equal(cell.DeltaE2000, Measured(rows[i], "deltaE2000"));
            Assert.Equal(cell.Evenness, Measured(rows[i], "evenness"));
            Assert.Equal(cell.HaloMm, Measured(rows[i], "halo (mm)"));
            Assert.Equal(cell.CenterPx?.X, Number(rows[i]["center x (px)"]));
            Assert.Equal(cell.CenterPx?.Y, Number(rows[i]["center y (px)"]));
            Assert.Equal(cell.Flags, rows[i]["flags"].Split(' ', StringSplitOptions.RemoveEmptyEntries));
        }
    }

    [Fact]
    public void A_cut_reading_comes_back_side_by_side()
    {
        Reading reading = Samples.Cut();
        Dictionary<string, string>[] rows = Rows(CardReport.Csv(reading));

        for (int i = 0; i < rows.Length; i++)
        {
            CellReading cell = reading.Cells[i];
            Assert.Equal(cell.Dose!.Value, Number(rows[i]["dose (J/mm)"])!.Value, 1e-5 * cell.Dose.Value);
            Assert.Equal(cell.Through.ToString(), rows[i]["through"], ignoreCase: true);
            string[] names = ["left", "right", "top", "bottom"];
            foreach ((string name, SideReading side) in names.Zip(ShownCell.Each(cell.Sides!)))
            {
                Assert.Equal(side.State.ToString(), rows[i][$"{name} state"], ignoreCase: true);
                Assert.Equal(side.OpenFraction, Number(rows[i][$"{name} open fraction"]));
                Assert.Equal(side.SeenFraction, Number(rows[i][$"{name} seen fraction"]));
                Assert.Equal(side.KerfMm, Number(rows[i][$"{name} kerf (mm)"]));
                Assert.Equal(side.LongestBridgeMm, Number(rows[i][$"{name} longest bridge (mm)"]));
                Assert.Equal(side.LongestBridgeAtMm, Number(rows[i][$"{name} longest bridge at (mm)"]));
            }
        }
    }

    [Theory]
    [InlineData(2.0999999999999996, "2.1")]
    [InlineData(1.23456789, "1.23457")]
    [InlineData(0.000123456789, "0.000123457")]
    [InlineData(1234567.8, "1234570")]
    public void Doses_carry_six_significant_digits(double dose, string expected)
    {
        Reading reading = Samples.Unmeasured();
        reading = reading with { Cells = [reading.Cells[0] with { Dose = new(dose, Dose.JoulesPerMm2) }] };

        Assert.Equal(expected, Assert.Single(Rows(CardReport.Csv(reading)))["dose (J/mm2)"]);
    }

    [Fact]
    public void A_cut_has_its_dose_per_thickness_where_the_thickness_is_given()
    {
        Reading reading = Samples.Cut();
        Reading thick = reading with { Plan = reading.Plan with { Material = reading.Plan.Material with { ThicknessMm = 4 } } };
        Reading unknown = reading with { Plan = reading.Plan with { Material = reading.Plan.Material with { ThicknessMm = null } } };
        const string Column = "dose per thickness (J/mm per mm)";

        Assert.Equal(reading.Cells[3].Dose!.Value / 4, Number(Rows(CardReport.Csv(thick))[3][Column])!.Value, 1e-5);
        Assert.All(Rows(CardReport.Csv(unknown)), row => Assert.DoesNotContain(Column, row.Keys));
        Assert.All(Rows(CardReport.Csv(Samples.Engraved())), row => Assert.DoesNotContain(Column, row.Keys));
    }

    [Fact]
    public void What_was_not_measured_is_empty()
    {
        Dictionary<string, string>[] rows = Rows(CardReport.Csv(Samples.Unmeasured()));

        Assert.All(rows, row => Assert.All(
            ["dose (J/mm2)", "darkness (density)", "standard error of darkness (density)", "halo (mm)", "center x (px)", "flags"],
            name => Assert.Equal("", row[name])));
    }

    [Fact] // RFC 4180, section 2: lines end in CR LF, every record has the same number of fields
    public void Lines_end_in_CR_LF_and_have_as_many_fields_as_the_header()
    {
        string csv = CardReport.Csv(Samples.Cut());

        Assert.EndsWith("\r\n", csv, StringComparison.Ordinal);
        Assert.DoesNotContain("\n", csv.Replace("\r\n", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Single(Records(csv).Select(record => record.Count).Distinct());
    }

    [Fact]
    public void A_flag_cannot_break_a_line_or_become_a_formula()
    {
        Reading reading = Samples.Unmeasured();
        reading = reading with { Cells = [reading.Cells[0] with { Flags = ["=HYPERLINK(\"x\")", "a,b\r\nc"] }] };

        Dictionary<string, string> row = Assert.Single(Rows(CardReport.Csv(reading)));

        Assert.Equal("'=HYPERLINK(\"x\") a,b  c", row["flags"]);
    }

    [Theory] // the signs that OWASP names under "CSV Injection"; from memory
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+1", "'+1")]
    [InlineData("-1+1", "'-1+1")]
    [InlineData("@SUM(1)", "'@SUM(1)")]
    [InlineData("\t=1+1", "'=1+1")]
    [InlineData("\r=1+1", "'=1+1")]
    [InlineData("\u001B[31mred\u001B[0m \u009B2J\u0007", "[31mred [0m  2J")]
    [InlineData("birch", "birch")]
    public void A_name_is_no_formula_and_tells_a_terminal_nothing_and_numbers_stay_numbers(string name, string shown)
    {
        Reading reading = Samples.Unmeasured();
        CellSettings settings = reading.Cells[0].Settings with { FocusOffsetMm = -1.5 };
        reading = reading with
        {
            Plan = reading.Plan with
            {
                Material = new() { Name = name, Batch = name }, Machine = reading.Plan.Machine with { Name = name },
            },
            Cells = [reading.Cells[0] with { Settings = settings }],
        };
        using StringWriter text = new();
        CardReport.WriteCsv([new("r1", DateTimeOffset.UnixEpoch, reading)], text);

        Dictionary<string, string> row = Assert.Single(Rows(text.ToString()));

        Assert.Equal([shown, shown, shown], [row["material"], row["batch"], row["machine"]]);
        Assert.Equal("-1.5", row.Single(field => field.Key.StartsWith("focus", StringComparison.Ordinal)).Value);
        Assert.DoesNotContain(text.ToString().Replace("\r\n", "", StringComparison.Ordinal), char.IsControl);
    }

    private static Measured? Measured(Dictionary<string, string> row, string name) =>
        Number(row[name]) is double value ? new(value, Number(row[$"standard error of {name}"])!.Value) : null;

    private static double? Number(string field) => field.Length == 0 ? null : double.Parse(field, CultureInfo.InvariantCulture);

    private static Dictionary<string, string>[] Rows(string csv)
    {
        List<List<string>> records = Records(csv);
        return [.. records.Skip(1).Select(record => records[0].Zip(record).ToDictionary(pair => pair.First, pair => pair.Second))];
    }

    /// <summary>A reader of RFC 4180 of its own, so that a fault in the writer's library shows.</summary>
    private static List<List<string>> Records(string csv)
    {
        List<List<string>> records = [];
        List<string> record = [];
        StringBuilder field = new();
        bool isQuoted = false;
        for (int i = 0; i < csv.Length; i++)
        {
            char c = csv[i];
            if (isQuoted && c == '"' && i + 1 < csv.Length && csv[i + 1] == '"') { field.Append('"'); i++; }
            else if (c == '"') isQuoted = !isQuoted;
            else if (!isQuoted && c == ',') { record.Add(field.ToString()); field.Clear(); }
            else if (!isQuoted && c == '\r')
            {
                Assert.Equal('\n', csv[++i]);
                record.Add(field.ToString());
                field.Clear();
                records.Add(record);
                record = [];
            }
            else field.Append(c);
        }

        Assert.False(isQuoted);
        Assert.Empty(record);
        return records;
    }
}
