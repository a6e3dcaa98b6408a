using System.Globalization;
using CardScan.Model;
using CsvHelper;
using CsvColumn = CardScan.Reporting.CsvColumn<CardScan.Model.CellReading>;

namespace CardScan.Reporting;

/// <summary>The cells as a table for other programs: units in the header (none for a number), empty where not measured.</summary>
internal static class CellsCsv
{
    public static string Write(Reading reading) => CsvTable.Of([.. Columns(reading)], reading.Cells);

    /// <summary>The cells of many readings under one header: first what names the reading, then every column a cell can have.</summary>
    public static void Write(TextWriter text, IEnumerable<NamedReading> readings)
    {
        using CsvWriter csv = CsvTable.Begin(text);
        bool isFirst = true;
        foreach (NamedReading named in readings)
        {
            CsvColumn[] columns = [.. Heads(named), .. Columns(named.Reading, isOfMany: true)];
            if (isFirst) CsvTable.WriteHeader(csv, columns);
            isFirst = false;
            CsvTable.Write(csv, columns, named.Reading.Cells);
        }
    }

    private static IEnumerable<CsvColumn> Heads(NamedReading named)
    {
        Plan plan = named.Reading.Plan;
        yield return Told("csv.reading", _ => named.Name);
        yield return Told("csv.read", _ => named.ReadUtc.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
        yield return Told("csv.process", _ => EnumName.Of(plan.Process));
        yield return Told("csv.material", _ => plan.Material.Name);
        yield return Told("csv.thickness", _ => plan.Material.ThicknessMm);
        yield return Told("csv.batch", _ => plan.Material.Batch);
        yield return Told("csv.machine", _ => plan.Machine.Name);
        yield return Told("csv.watts", _ => plan.Machine.RatedOpticalWatts);
    }

    private static IEnumerable<CsvColumn> Columns(Reading reading, bool isOfMany = false)
    {
        bool isLadder = reading.Plan.Kind == CardKind.FocusLadder;
        bool hasSides = reading.Plan.Process == Process.Cut || reading.Cells.Any(cell => cell.Sides is not null);
        return
        [
            Told("csv.card", _ => reading.Plan.Number),
            Told("csv.row", cell => cell.Row),
            Told("csv.column", cell => cell.Column),
            Burned("csv.power", settings => settings.PowerPercent),
            Burned("csv.speed", settings => settings.SpeedMmPerMin),
            Burned("csv.passes", settings => settings.Passes),
            Burned("csv.focus", settings => settings.FocusOffsetMm),
            Told("csv.interval", cell => cell.Settings.LineIntervalMm),
            .. isOfMany || reading.Plan.Fixed.AirAssist is not null
                ? (CsvColumn[])[Told("csv.air", _ => reading.Plan.Fixed.AirAssist is { } air ? Voice.Tell(air.ToFigure()) : null)]
                : [],
            .. (isOfMany ? [Dose.JoulesPerMm, Dose.JoulesPerMm2] : DoseUnits(reading)).Select(EnergyIn),
            .. DosePerThickness(reading.Plan, isOfMany),
            .. Measurement("csv.darkness", cell => cell.Darkness),
            .. Measurement("csv.lightness", cell => cell.Lightness),
            .. Measurement("csv.contrast", cell => cell.Contrast),
            .. Measurement("csv.colour", cell => cell.DeltaE2000),
            .. Measurement("csv.evenness", cell => cell.Evenness),
            .. Measurement("csv.halo", cell => cell.HaloMm),
            .. isOfMany || isLadder ? LineColumns() : [],
            .. isOfMany || hasSides ? SideColumns() : [],
            Told("csv.center-x", cell => cell.CenterPx?.X),
            Told("csv.center-y", cell => cell.CenterPx?.Y),
            Told("csv.flags", cell => string.Join(' ', cell.Flags)),
            .. isOfMany || reading.Joined is not null ? JoinedColumn(reading) : [],
        ];

        CsvColumn Burned(string key, Func<CellSettings, double> setting) =>
            Told(key, cell => reading.Plan.IsPrinted ? null : setting(cell.Settings));
    }

    /// <summary>A column under a heading of the language.</summary>
    private static CsvColumn Told(string key, Func<CellReading, object?> value) => new(Voice.Say(key), value);

    private static CsvColumn EnergyIn(string unit) => new(
        Voice.Say("csv.dose", ("unit", unit)), cell => cell.Dose?.Unit == unit ? Numbers.Rounded(cell.Dose.Value, 6) : null);

    private static CsvColumn[] JoinedColumn(Reading reading) =>
        [Told("csv.joined", _ => string.Join(' ', (reading.Joined ?? []).Select(card => card.Number)))];

    /// <summary>The units that occur: one, unless another program mixed them.</summary>
    private static IEnumerable<string> DoseUnits(Reading reading) =>
        reading.Cells.Select(cell => cell.Dose?.Unit).OfType<string>()
            .Append(reading.Plan.Process == Process.Cut || reading.Plan.Kind == CardKind.FocusLadder ? Dose.JoulesPerMm : Dose.JoulesPerMm2)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);

    private static IEnumerable<CsvColumn> DosePerThickness(Plan plan, bool isOfMany)
    {
        double? thicknessMm = plan.Process == Process.Cut ? plan.Material.ThicknessMm : null;
        if (thicknessMm is null && !isOfMany) yield break;
        yield return Told(
            "csv.dose-per-thickness",
            cell => thicknessMm is { } mm && cell.Dose?.PerThickness(mm) is { } dose ? Numbers.Rounded(dose, 6) : null);
    }

    private static IEnumerable<CsvColumn> Measurement(string key, Func<CellReading, Measured?> of)
    {
        string name = Voice.Say(key);
        yield return new(name, cell => of(cell)?.Value);
        yield return new(Voice.Say("csv.error", ("column", name)), cell => of(cell)?.StandardError);
    }

    private static IEnumerable<CsvColumn> LineColumns() =>
        [.. Measurement("csv.line-x", cell => cell.LineWidths?.AcrossXMm),
        .. Measurement("csv.line-y", cell => cell.LineWidths?.AcrossYMm)];

    private static IEnumerable<CsvColumn> SideColumns()
    {
        yield return Told("csv.through", cell => EnumName.Of(cell.Through));
        foreach ((string name, Func<Sides, SideReading> of) in Sides)
        {
            yield return Of("csv.state", side => EnumName.Of(side.State));
            yield return Of("csv.open", side => side.OpenFraction);
            yield return Of("csv.seen", side => side.SeenFraction);
            yield return Of("csv.kerf", side => side.KerfMm);
            yield return Of("csv.bridge", side => side.LongestBridgeMm);
            yield return Of("csv.bridge-at", side => side.LongestBridgeAtMm);

            CsvColumn Of(string key, Func<SideReading, object?> value) => new(
                Voice.Say(key, ("side", new Phrase("csv.side", ("side", name)))),
                cell => cell.Sides is { } sides ? value(of(sides)) : null);
        }
    }

    private static readonly (string Name, Func<Sides, SideReading> Of)[] Sides =
        [("left", s => s.Left), ("right", s => s.Right), ("top", s => s.Top), ("bottom", s => s.Bottom)];
}
