using System.Data.Common;
using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive.Tests;

/// <summary>Archives of earlier versions of this program.</summary>
public sealed class SchemaTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void An_older_schema_is_brought_up_to_date_and_keeps_its_rows()
    {
        Fill();
        string[] scripts = [.. Schema.Scripts, "ALTER TABLE card ADD COLUMN later TEXT; UPDATE card SET later = 'yes'"];
        using (SqliteDatabase newer = SqliteDatabase.Open(_scratch.Folder, scripts).Value)
        {
            using DbCommand command = newer.Connection.CreateCommand();
            command.CommandText = "SELECT count(*) FROM card WHERE later = 'yes'";
            Assert.Equal(3L, command.ExecuteScalar());
        }

        Assert.Equal("archive-newer", CardArchive.Open(_scratch.Folder, _scratch.Clock).Refusal!.ToldCode());
    }

    public static TheoryData<int> EarlierSchemas => new(Enumerable.Range(1, Schema.Scripts.Count - 1));

    [Theory]
    [MemberData(nameof(EarlierSchemas))]
    public void Every_earlier_schema_becomes_that_of_a_new_archive(int earlier)
    {
        using Scratch fresh = new();
        Directory.CreateDirectory(_scratch.Folder);
        SqliteDatabase.Open(_scratch.Folder, [.. Schema.Scripts.Take(earlier)]).Value.Dispose();
        Assert.NotEqual(Tables(fresh), Tables(_scratch, Schema.Scripts.Take(earlier)));
        Assert.Equal(Tables(fresh), Tables(_scratch));

        static string[] Tables(Scratch scratch, IEnumerable<string>? scripts = null)
        {
            Directory.CreateDirectory(scratch.Folder);
            using SqliteDatabase database = SqliteDatabase.Open(scratch.Folder, scripts?.ToArray()).Value;
            return [.. database.Query("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name",
                row => row.Text("sql"))];
        }
    }

    [Fact]
    public void A_migration_that_fails_leaves_the_older_schema()
    {
        Fill();
        Assert.Throws<SqliteException>(() => SqliteDatabase.Open(
            _scratch.Folder, [.. Schema.Scripts, "ALTER TABLE card ADD COLUMN later TEXT; INSERT INTO nowhere VALUES (1)"]));
        using CardArchive archive = _scratch.Open();
        Assert.Empty(archive.Verify().Value.Faults);
    }

    [Fact]
    public void An_archive_of_the_first_schema_is_brought_up_to_date_with_its_readings()
    {
        using Scratch old = new();
        Directory.CreateDirectory(old.Folder);
        using (SqliteDatabase first = SqliteDatabase.Open(old.Folder, [Schema.Scripts[0]]).Value)
        {
            first.Execute("INSERT INTO machine VALUES (1, 'bench', 10); INSERT INTO material VALUES (1, 'slate');");
            first.Execute(
                "INSERT INTO card (id, number, plan_sha256, plan, title, process, material_id, machine_id, kept_utc) "
                    + "VALUES (1, 4, printf('%064d', 1), x'', '', 'engrave', 1, 1, '2026-03-01T10:00:00.000Z')");
            first.Execute(
                "INSERT INTO reading (id, card_id, reading_sha256, reading, photo_set_sha256, is_current, read_utc) "
                    + "VALUES (1, 1, printf('%064d', 2), x'', '', 1, '2026-03-01T10:00:00.000Z')");
            first.Execute(
                "INSERT INTO cell (reading_id, row, \"column\", power_percent, speed_mm_per_min, passes, focus_offset_mm) "
                    + "VALUES (1, 0, 0, 50, 1500, 2, 0)");
            first.Execute(
                "INSERT INTO recommendation (reading_id, position, goal, power_percent, speed_mm_per_min, cell_row, cell_column, reason) "
                    + "VALUES (1, 0, 'darkest', 50, 1500, 0, 0, 'dark')");
        }

        using CardArchive opened = old.Open();
        RecommendationEntry setting = Assert.Single(Assert.Single(opened.Find(new()).Value).Recommendations);
        Assert.Equal((null, 2, 50.0), (setting.Card, setting.Passes, setting.PowerPercent));
    }

    [Fact]
    public void An_archive_of_an_older_schema_tells_machines_apart_by_its_plans()
    {
        using Scratch old = new();
        Directory.CreateDirectory(old.Folder);
        Plan sample = Kept.Plan(5);
        byte[] json = Kept.Json(sample with
        {
            Machine = Model.Tests.Samples.ProfiledMachine,
            Fixed = sample.Fixed with { AirAssist = new() { IsOn = true, Pressure = "high" } },
        });
        using (SqliteDatabase before = SqliteDatabase.Open(old.Folder, [.. Schema.Scripts.Take(3)]).Value)
        {
            before.Execute("INSERT INTO machine VALUES (1, 'bench', 10); INSERT INTO material VALUES (1, 'slate')");
            foreach ((int id, byte[] plan) in new[] { (1, Packed.Of(json)), (2, [1, 2, 3]) })
            {
                before.Execute(
                    """
                    INSERT INTO card (id, number, plan_sha256, plan, title, process, material_id, machine_id, kept_utc)
                    VALUES (@id, 5, @sha256, @plan, '', 'engrave', 1, 1, '2026-03-01T12:00:00.000Z')
                    """, ("id", id), ("sha256", new string((char)('a' + id), 64)), ("plan", plan));
            }
        }

        using SqliteDatabase after = SqliteDatabase.Open(old.Folder).Value;
        Assert.Equal(
            [(455, 0.08, 0.1, "followsSpeed", 1, "high"), (null, null, null, null, null, null)],
            after.Query("SELECT * FROM card ORDER BY id", row => (row.RealOrNull("wavelength_nm"), row.RealOrNull("beam_x_mm"),
                row.RealOrNull("beam_y_mm"), row.TextOrNull("beam_mode"), row.LongOrNull("air_is_on"), row.TextOrNull("air_pressure"))));
    }

    private void Fill()
    {
        using CardArchive archive = _scratch.Open();
        for (int i = 1; i <= 3; i++) archive.KeepReading(Kept.Reading(Kept.Plan(i), $"photo {i}"));
    }
}
