using System.Text.RegularExpressions;

namespace CardScan.Cli.Tests;

/// <summary>Archives on disks that cannot be written or are full, in processes of their own.</summary>
public sealed class BoundDiskTests : IDisposable
{
    private readonly Scratch _scratch = new();

    private string Archive => _scratch["archive"];

    public void Dispose()
    {
        // Permissions that a way took away are given back, so that everything can be deleted.
        SetPermissions("u+rwX", _scratch[""]);
        _scratch.Dispose();
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_read_only_archive_is_looked_at_and_used_and_tells_that_it_keeps_nothing(bool hasLog)
    {
        Fill();
        Directory.CreateDirectory(_scratch["out"]);
        SetPermissions("a+rwX", _scratch[""]);
        if (hasLog) LeaveALog();

        string told = BoundDisk.ReadOnly(Archive, """
            step() { echo "== $1"; shift; cardscan "$@" 2>&1; echo "code $?"; }
            cd "$2"
            step list archive list --archive "$1"
            step find archive find birch --archive "$1"
            step best settings birch --archive "$1"
            step show archive show 17 --archive "$1"
            step csv archive export out.csv --archive "$1"
            step json archive export out.json --archive "$1"
            step zip archive export out.zip --archive "$1"
            step verify archive verify --archive "$1"
            step score score 17 --archive "$1" --out scored
            step compare compare r1 r2 --archive "$1" --out compared
            step next next 17 --archive "$1" --out next
            step read read "$3" --archive "$1" --out read
            step plan plan --material slate --watts 10 --power 20,80 --speed 1000,3000 --archive "$1" --out plan
            step greys greys --archive "$1" --out strip
            step prune archive prune r1 --archive "$1"
            step really archive prune r1 --really-delete --archive "$1"
            step note archive note 17 words --archive "$1"
            exit 0
            """, Archive, _scratch["out"], Cli.Photo);

        Dictionary<string, string> steps = StepsOf(told);
        string[] done =
            ["list", "find", "best", "show", "csv", "json", "zip", "verify", "score", "compare", "next", "read", "plan", "greys"];
        foreach (string step in done)
            Assert.True(steps[step].EndsWith("code 0", StringComparison.Ordinal), $"{step}: {steps[step]}");
        Assert.Contains("birch", steps["list"], StringComparison.Ordinal);
        foreach (string step in (string[])["next", "read", "plan", "greys", "prune", "really", "note"])
        {
            Assert.Contains(
                $"The archive at {Archive} is read-only here: nothing was kept or changed in it.", steps[step], StringComparison.Ordinal);
        }

        Assert.All((string[])["prune", "really", "note"], step => Assert.EndsWith("code 1", steps[step], StringComparison.Ordinal));
        Assert.True(File.Exists(_scratch["out/next/plan.json"]));
        Assert.True(File.Exists(_scratch["out/read/report.html"]));
        Assert.True(File.Exists(_scratch["out/strip/plan.json"]));
        Assert.Empty(Directory.EnumerateFiles(_scratch["out"], "*.part", SearchOption.AllDirectories));
    }

    [Fact]
    public void What_a_killed_run_left_half_written_is_deleted_by_the_next()
    {
        Fill();
        string told = BoundDisk.Limited("""
            cd "$1"
            (limited; cardscan score first/reading.json --no-archive --out out) >/dev/null 2>&1; echo "killed $?"
            find . -name '*.part' | wc -l
            find . -name '*.part' -exec touch -d '2 hours ago' {} +
            cardscan score first/reading.json --no-archive --out out >/dev/null 2>&1; echo "again $?"
            find . -name '*.part' | wc -l
            """, _scratch[""]);

        Assert.Equal(["killed 153", "1", "again 0", "0"], told.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Where(line => !line.Contains("File size limit", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_file_that_cannot_be_written_in_full_ends_in_a_line_that_names_its_place_and_leaves_nothing()
    {
        Fill();
        string told = BoundDisk.Limited("""
            cd "$1"
            trap '' XFSZ
            (limited; cardscan score first/reading.json --no-archive --out out 2>&1 >/dev/null; echo "code $?")
            (limited; cardscan archive export all.zip --archive archive 2>&1 >/dev/null; echo "code $?")
            (limited; cardscan archive export all.json --archive archive 2>&1 >/dev/null; echo "code $?")
            find . -name '*.part' -o -name out -o -name 'all.*'
            """, _scratch[""]);

        string[] lines = told.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(6, lines.Length);
        Assert.Equal(["code 1", "code 1", "code 1"], lines.Where((_, i) => i % 2 == 1));
        Assert.Contains("cannot write to out (", lines[0], StringComparison.Ordinal);
        Assert.Contains("all.zip cannot be written", lines[2], StringComparison.Ordinal);
        Assert.Contains("all.json cannot be written", lines[4], StringComparison.Ordinal);
    }

    /// <summary>
    /// Where nobody may mount, the limits of the test before this one, and the full disks of the archive's own tests, stand in.
    /// </summary>
    [Fact]
    public void A_full_disk_is_named_and_pruned_free_again()
    {
        Fill();
        string disk = _scratch["disk"];
        Directory.CreateDirectory(disk);
        long bytes = Directory.EnumerateFiles(Archive, "*", SearchOption.AllDirectories).Sum(file => new FileInfo(file).Length);
        int kilobytes = (int)(bytes / 1024);
        string? told = BoundDisk.Small(disk, kilobytes + 400, """
            step() { echo "== $1"; shift; cardscan "$@" 2>&1; echo "code $?"; }
            cp -r "$1" "$2/archive"
            cat /dev/zero > "$2/ballast" 2>/dev/null
            cd "$4"
            step list archive list --archive "$2/archive"
            step best settings birch --archive "$2/archive"
            step verify archive verify --archive "$2/archive"
            step note archive note 17 "$(head -c 9000 /dev/zero | tr '\0' x)" --archive "$2/archive"
            step read read "$3" --archive "$2/archive" --out read --full-mark 90
            step out score 17 --archive "$2/archive" --out "$2/out"
            step export archive export "$2/out.zip" --archive "$2/archive"
            step csv archive export "$2/out.csv" --archive "$2/archive"
            step left verify; find "$2" "$4" -name '*.part'
            step told archive prune r1 --archive "$2/archive"
            step really archive prune r1 --really-delete --archive "$2/archive"
            step after archive verify --archive "$2/archive"
            step again archive note 17 words --archive "$2/archive"
            exit 0
            """, Archive, disk, Cli.Photo, _scratch[""]);
        if (told is null)
        {
            A_file_that_cannot_be_written_in_full_ends_in_a_line_that_names_its_place_and_leaves_nothing();
            return;
        }

        Dictionary<string, string> steps = StepsOf(told);
        foreach (string step in (string[])["list", "best", "verify", "told", "really", "after", "again"])
            Assert.True(steps[step].EndsWith("code 0", StringComparison.Ordinal), $"{step}: {steps[step]}");
        Assert.Contains($"The disk of the archive at {disk}/archive is full", steps["read"], StringComparison.Ordinal);
        Assert.Contains($"The disk of the archive at {disk}/archive is full", steps["note"], StringComparison.Ordinal);
        Assert.Contains(
            $"The disk of {disk}/out is full. Free some space there, or give another folder with --out.", steps["out"],
            StringComparison.Ordinal);
        foreach (string ending in (string[])["zip", "csv"])
        {
            Assert.Contains($"The disk of {disk}/out.{ending} is full. Free some space there, or give another file.",
                steps[ending == "zip" ? "export" : "csv"], StringComparison.Ordinal);
        }

        Assert.DoesNotContain(".part", steps["left"], StringComparison.Ordinal);
        Assert.Contains("Removed", steps["really"], StringComparison.Ordinal);
    }

    private static void SetPermissions(string mode, string folder)
    {
        using System.Diagnostics.Process chmod = System.Diagnostics.Process.Start("chmod", ["-R", mode, folder])!;
        chmod.WaitForExit();
    }

    /// <summary>Two batches, each with a card that was read.</summary>
    private void Fill()
    {
        Assert.Equal(0, Cli.RunWith(Archive, "read", Cli.Photo, "--plan", Cli.Plan, "--out", _scratch["first"]).Code);
        Assert.Equal(0, Cli.RunWith(Archive, "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", _scratch["second"]).Code);
    }

    /// <summary>As a killed writer leaves it: what it kept is in the log alone, and nothing shares its index.</summary>
    private void LeaveALog()
    {
        string database = Path.Combine(Archive, "archive.db"), copy = _scratch["kept.db"];
        using (Microsoft.Data.Sqlite.SqliteConnection connection = new($"Data Source={database};Pooling=False"))
        {
            connection.Open();
            using Microsoft.Data.Sqlite.SqliteCommand command = connection.CreateCommand();
            command.CommandText = "PRAGMA wal_autocheckpoint = 0; UPDATE card SET title = title || ' again'";
            command.ExecuteNonQuery();
            File.Copy(database, copy);
            File.Copy($"{database}-wal", $"{copy}-wal");
        }

        File.Copy(copy, database, overwrite: true);
        File.Copy($"{copy}-wal", $"{database}-wal", overwrite: true);
        Assert.True(new FileInfo($"{database}-wal").Length > 0);
    }

    private static Dictionary<string, string> StepsOf(string told) =>
        Regex.Split(told, "^== ", RegexOptions.Multiline, TimeSpan.FromSeconds(5)).Skip(1)
            .Select(step => step.Split('\n', 2)).ToDictionary(step => step[0], step => step[1].Trim());
}
