using System.Globalization;
using CardScan.Model;
using CsvHelper;

namespace CardScan.Reporting;

/// <summary>The cells as a table for other programs: RFC 4180, units in the header (none for a pure number), empty where not measured.</summary>
internal static class CellsCsv
{
    // The defaults are RFC 4180. Flags come from a file that anybody may have written: a spreadsheet must not run one as a formula.
    private static readonly CsvWriterOptions Options = CsvWriterOptions.Default with { Injection = CsvInjection.Escape, FormatProvider = CultureInfo.InvariantCulture };

    private sealed record Column(string Header, Func<CellReading, object?> Value);

    public static string Write(Reading reading)
    {
        List<Column> columns = [.. Columns(reading)];
        using StringWriter text = new(CultureInfo.InvariantCulture);
        using (CsvWriter csv = CsvWriter.Create(text, Options, leaveOpen: true))
        {
            csv.WriteHeader([.. columns.Select(column => column.Header)]);
            foreach (CellReading cell in reading.Cells)
            {
                foreach (Column column in columns) csv.WriteField(column.Value(cell));
                csv.EndRecord();
            }
        }

        return text.ToString();
    }

    /// <summary>The cells of many readings under one header: what tells the readings apart first, and every column that a cell can have.</summary>
    public static void Write(TextWriter text, IEnumerable<NamedReading> readings)
    {
        using CsvWriter csv = CsvWriter.Create(text, Options, leaveOpen: true);
        bool isFirst = true;
        foreach (NamedReading named in readings)
        {
            Column[] columns = [.. Heads(named), .. Columns(named.Reading, isOfMany: true)];
            if (isFirst) csv.WriteHeader([.. columns.Select(column => column.Header)]);
            isFirst = false;
            foreach (CellReading cell in named.Reading.Cells)
            {
                foreach (Column column in columns) csv.WriteField(column.Value(cell));
                csv.EndRecord();
            }
        }
    }

    private static IEnumerable<Column> Heads(NamedReading named)
    {
        Plan plan = named.Reading.Plan;
        yield return new("reading", _ => named.Name);
        yield return new("read (UTC)", _ => named.ReadUtc.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
        yield return new("process", _ => Code<Process>(plan.Process));
        yield return new("material", _ => plan.Material.Name);
        yield return new("thickness (mm)", _ => plan.Material.ThicknessMm);
        yield return new("batch", _ => plan.Material.Batch);
        yield return new("machine", _ => plan.Machine.Name);
        yield return new("optical power at 100 % (W)", _ => plan.Machine.RatedOpticalWatts);
    }

    private static IEnumerable<Column> Columns(Reading reading, bool isOfMany = false) =>
    [
        new("card", _ => reading.Plan.Number),
        new("row (from 0)", cell => cell.Row),
        new("column (from 0)", cell => cell.Column),
        new("power (%)", cell => cell.Settings.PowerPercent),
        new("speed (mm/min)", cell => cell.Settings.SpeedMmPerMin),
        new("passes", cell => cell.Settings.Passes),
        new("focus offset (mm)", cell => cell.Settings.FocusOffsetMm),
        new("line interval (mm)", cell => cell.Settings.LineIntervalMm),
        .. (isOfMany ? [Dose.JoulesPerMm, Dose.JoulesPerMm2] : DoseUnits(reading)).Select(unit => new Column($"dose ({unit})", cell => cell.Dose?.Unit == unit ? Numbers.Rounded(cell.Dose.Value, 6) : null)),
        .. DosePerThickness(reading.Plan, isOfMany),
        .. Measurement("darkness (density)", cell => cell.Darkness),
        .. Measurement("lightness (L*)", cell => cell.Lightness),
        .. Measurement("contrast", cell => cell.Contrast),
        .. Measurement("deltaE2000", cell => cell.DeltaE2000),
        .. Measurement("evenness", cell => cell.Evenness),
        .. Measurement("halo (mm)", cell => cell.HaloMm),
        .. isOfMany || reading.Plan.Kind == CardKind.FocusLadder ? LineColumns() : [],
        .. isOfMany || reading.Plan.Process == Process.Cut || reading.Cells.Any(cell => cell.Sides is not null) ? SideColumns() : [],
        new("center x (px)", cell => cell.CenterPx?.X),
        new("center y (px)", cell => cell.CenterPx?.Y),
        new("flags", cell => string.Join(' ', cell.Flags)),
        .. isOfMany || reading.Joined is not null ? [new Column("scored with cards", _ => string.Join(' ', (reading.Joined ?? []).Select(card => card.Number)))] : Array.Empty<Column>(),
    ];

    /// <summary>The units that occur: one, unless another program mixed them.</summary>
    private static IEnumerable<string> DoseUnits(Reading reading) =>
        reading.Cells.Select(cell => cell.Dose?.Unit).OfType<string>()
            .Append(reading.Plan.Process == Process.Cut || reading.Plan.Kind == CardKind.FocusLadder ? Dose.JoulesPerMm : Dose.JoulesPerMm2)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);

    private static IEnumerable<Column> DosePerThickness(Plan plan, bool isOfMany)
    {
        double? thicknessMm = plan.Process == Process.Cut ? plan.Material.ThicknessMm : null;
        if (thicknessMm is null && !isOfMany) yield break;
        yield return new("dose per thickness (J/mm per mm)", cell => thicknessMm is { } mm && cell.Dose?.PerThickness(mm) is { } dose ? Numbers.Rounded(dose, 6) : null);
    }

    private static IEnumerable<Column> Measurement(string name, Func<CellReading, Measured?> of)
    {
        yield return new(name, cell => of(cell)?.Value);
        yield return new($"standard error of {name}", cell => of(cell)?.StandardError);
    }

    private static IEnumerable<Column> LineColumns() =>
        [.. Measurement("line width across x (mm)", cell => cell.LineWidths?.AcrossXMm), .. Measurement("line width across y (mm)", cell => cell.LineWidths?.AcrossYMm)];

    private static IEnumerable<Column> SideColumns()
    {
        yield return new("through", cell => Code(cell.Through));
        foreach ((string name, Func<Sides, SideReading> of) in Sides)
        {
            yield return new($"{name} state", cell => Code(cell.Sides is { } sides ? of(sides).State : default(SideState?)));
            yield return new($"{name} open fraction", cell => cell.Sides is { } sides ? of(sides).OpenFraction : null);
            yield return new($"{name} seen fraction", cell => cell.Sides is { } sides ? of(sides).SeenFraction : null);
            yield return new($"{name} kerf (mm)", cell => cell.Sides is { } sides ? of(sides).KerfMm : null);
            yield return new($"{name} longest bridge (mm)", cell => cell.Sides is { } sides ? of(sides).LongestBridgeMm : null);
            yield return new($"{name} longest bridge at (mm)", cell => cell.Sides is { } sides ? of(sides).LongestBridgeAtMm : null);
        }
    }

    private static readonly (string Name, Func<Sides, SideReading> Of)[] Sides =
        [("left", s => s.Left), ("right", s => s.Right), ("top", s => s.Top), ("bottom", s => s.Bottom)];

    private static string? Code<T>(T? state) where T : struct, Enum =>
        state is { } value ? System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(value.ToString()) : null;
}
