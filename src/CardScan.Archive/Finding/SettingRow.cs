using CardScan.Model;

namespace CardScan.Archive;

/// <summary>One goal of a current reading, or a reading without any, with everything that tells what it is comparable with.</summary>
internal sealed record SettingRow
{
    public required long ReadingId { get; init; }

    public required string Read { get; init; }

    public required long CardId { get; init; }

    public required int Number { get; init; }

    /// <summary>Where the material and the machine are kept under at last.</summary>
    public required (long Material, long Machine) Roots { get; init; }

    public required string Material { get; init; }

    public required double? ThicknessMm { get; init; }

    public required string? Batch { get; init; }

    public required string Process { get; init; }

    public required MachineTraits Traits { get; init; }

    public required bool? AirIsOn { get; init; }

    /// <summary>True where its card answers the query; the others of its kind are there to be held against it.</summary>
    public required bool IsAsked { get; init; }

    public required string? Goal { get; init; }

    public required double PowerPercent { get; init; }

    public required double SpeedMmPerMin { get; init; }

    public required int? Passes { get; init; }

    public required double? LineIntervalMm { get; init; }

    public required double? FocusOffsetMm { get; init; }

    public required double? Confidence { get; init; }

    /// <summary>True where it recommends a setting that may be called one.</summary>
    public bool IsSure => Goal is { } goal && KeptSetting.IsSure(goal, Confidence);

    /// <summary>
    /// Of every card of some materials on some machines the newest current reading for each goal, and the newest of all where that has
    /// none; newest first. What is older says nothing that a newer one does not.
    /// </summary>
    /// <param name="database">The database.</param>
    /// <param name="query">The cards that a setting may come from.</param>
    /// <param name="kinds">The materials and machines, each the one that it is kept under.</param>
    public static List<SettingRow> Of(Database database, ArchiveQuery query, IReadOnlyList<(long Material, long Machine)> kinds)
    {
        if (kinds.Count == 0) return [];
        (string asked, (string Name, object? Value)[] values) = new CardFinder(database).Where(query);
        return database.Query(
            $"""
            WITH kind (material, machine) AS (VALUES {string.Join(", ", kinds.Select(kind => $"({kind.Material}, {kind.Machine})"))}),
            looked AS MATERIALIZED (
                SELECT card.id, card.number, card.process, card.thickness_mm, material.root AS material_root, material.name AS material,
                    machine.root AS machine_root, batch.name AS batch, machine.rated_optical_watts,
                    card.wavelength_nm, card.beam_x_mm, card.beam_y_mm, card.beam_mode, card.air_is_on
                FROM kind
                JOIN material_kept AS material ON material.root = kind.material
                JOIN machine_kept AS machine ON machine.root = kind.machine
                JOIN card ON card.material_id = material.id AND card.machine_id = machine.id
                LEFT JOIN batch_kept AS batch ON batch.id = card.batch_id),
            asked AS MATERIALIZED (
                SELECT card.id FROM card{asked} {(asked.Length == 0 ? "WHERE" : "AND")} card.id IN (SELECT id FROM looked)),
            newest AS MATERIALIZED (SELECT * FROM (
                SELECT reading.id, reading.card_id, reading.read_utc, recommendation.position,
                    row_number() OVER (
                        PARTITION BY reading.card_id, recommendation.goal
                        ORDER BY reading.read_utc DESC, reading.id DESC, recommendation.position) AS age
                FROM looked
                JOIN reading ON reading.card_id = looked.id
                LEFT JOIN recommendation ON recommendation.reading_id = reading.id
                WHERE reading.is_current = 1) AS aged
                WHERE age = 1)
            SELECT recommendation.goal, recommendation.power_percent, recommendation.speed_mm_per_min,
                coalesce(earlier_passes, cell.passes) AS passes,
                coalesce(earlier_line_interval_mm, cell.line_interval_mm) AS line_interval_mm,
                coalesce(earlier_focus_offset_mm, cell.focus_offset_mm) AS focus_offset_mm, recommendation.confidence,
                newest.id AS reading_id, newest.read_utc, newest.card_id, looked.number, looked.process, looked.thickness_mm,
                looked.material_root, looked.material, looked.machine_root, looked.batch, looked.rated_optical_watts,
                looked.wavelength_nm, looked.beam_x_mm, looked.beam_y_mm, looked.beam_mode, looked.air_is_on,
                newest.card_id IN (SELECT id FROM asked) AS is_asked
            FROM newest
            JOIN looked ON looked.id = newest.card_id
            LEFT JOIN recommendation ON recommendation.reading_id = newest.id AND recommendation.position = newest.position
            LEFT JOIN cell ON {ReadingFinder.CellOfRecommendation}
            ORDER BY newest.read_utc DESC, newest.id DESC, newest.position
            """, Stored, values);
    }

    private static SettingRow Stored(StoredRow row) => new()
    {
        ReadingId = row.Long("reading_id"),
        Read = row.Text("read_utc"),
        CardId = row.Long("card_id"),
        Number = row.Int("number"),
        Roots = (row.Long("material_root"), row.Long("machine_root")),
        Material = row.Text("material"),
        ThicknessMm = row.RealOrNull("thickness_mm"),
        Batch = row.TextOrNull("batch"),
        Process = row.Text("process"),
        Traits = new(
            row.Real("rated_optical_watts"), row.RealOrNull("wavelength_nm"), row.RealOrNull("beam_x_mm"), row.RealOrNull("beam_y_mm"),
            row.TextOrNull("beam_mode")),
        AirIsOn = row.LongOrNull("air_is_on") is { } on ? on != 0 : null,
        IsAsked = row.Flag("is_asked"),
        Goal = row.TextOrNull("goal"),
        PowerPercent = row.RealOrNull("power_percent") ?? 0,
        SpeedMmPerMin = row.RealOrNull("speed_mm_per_min") ?? 0,
        Passes = row.IntOrNull("passes"),
        LineIntervalMm = row.RealOrNull("line_interval_mm"),
        FocusOffsetMm = row.RealOrNull("focus_offset_mm"),
        Confidence = row.RealOrNull("confidence"),
    };
}

/// <summary>What makes a machine of one name another one.</summary>
/// <param name="RatedOpticalWatts">Optical power at 100 %, W.</param>
/// <param name="WavelengthNm">Wavelength, nm; null where the plan does not tell.</param>
/// <param name="BeamXMm">Beam along x, mm; likewise.</param>
/// <param name="BeamYMm">Beam along y, mm; likewise.</param>
/// <param name="BeamMode">Whether power follows the speed; constant where the plan does not tell.</param>
internal readonly record struct MachineTraits(
    double RatedOpticalWatts, double? WavelengthNm, double? BeamXMm, double? BeamYMm, string? BeamMode)
{
    /// <summary>
    /// Rows with what their plans do not tell, where the other cards of the same name and power agree on it: a profile that was
    /// completed later is the same machine's.
    /// </summary>
    public static IEnumerable<SettingRow> Complete(IReadOnlyList<SettingRow> rows)
    {
        string constant = EnumName.Of(Model.BeamMode.Constant);
        var known = rows.GroupBy(row => (row.Roots.Machine, row.Traits.RatedOpticalWatts)).ToDictionary(
            machine => machine.Key,
            machine => (
                Wavelength: Only(machine.Select(row => row.Traits.WavelengthNm)), BeamX: Only(machine.Select(row => row.Traits.BeamXMm)),
                BeamY: Only(machine.Select(row => row.Traits.BeamYMm))));
        foreach (SettingRow row in rows)
        {
            (double? wavelength, double? beamX, double? beamY) = known[(row.Roots.Machine, row.Traits.RatedOpticalWatts)];
            yield return row with
            {
                Traits = row.Traits with
                {
                    WavelengthNm = row.Traits.WavelengthNm ?? wavelength, BeamXMm = row.Traits.BeamXMm ?? beamX,
                    BeamYMm = row.Traits.BeamYMm ?? beamY, BeamMode = row.Traits.BeamMode ?? constant,
                },
            };
        }
    }

    private static double? Only(IEnumerable<double?> values) =>
        values.OfType<double>().Distinct().Take(2).ToArray() is [var only] ? only : null;
}
