using System.Globalization;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>A whole archive goes from a folder to a server and back, and is what it was.</summary>
public sealed class CopyTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void An_archive_that_was_copied_to_a_server_and_back_has_the_same_rows_and_files()
    {
        using CardArchive own = CardArchive.Open(_scratch["own"], _scratch.Clock).Value;
        Fill(own);
        using (CardArchive shared = _scratch.Open()) Assert.Equal(new(4, 6, 13), own.CopyTo(shared).Value);
        using (CardArchive shared = _scratch.Open())
        {
            using CardArchive back = CardArchive.Open(_scratch["back"], _scratch.Clock).Value;
            Assert.Equal(new(4, 6, 13), shared.CopyTo(back).Value);
            Assert.All([own, shared, back], archive => Assert.True(archive.Verify().Value.IsSound));
            Assert.Equal("r6", shared.Resolve("r6").Value.Name);
            Assert.Equal("c5", shared.KeepCard(Kept.Json(Kept.Plan(50))).Value.Name);
            Assert.Single(shared.Find(new() { Text = "maple scorched" }).Value);
        }

        Assert.Equal(Rows(_scratch["own"]), Rows(_scratch["back"]));
        Assert.Equal(Files(_scratch["own"]), Files(_scratch["back"]));
        Assert.Equal(Files(_scratch["own"]), Files(_scratch.Folder));
    }

    [Fact]
    public void Into_an_archive_that_has_cards_nothing_is_copied()
    {
        using CardArchive own = CardArchive.Open(_scratch["own"], _scratch.Clock).Value, shared = _scratch.Open();
        Fill(own);
        shared.KeepCard(Kept.Json(Kept.Plan(50)));
        Assert.Equal("copy-not-empty", own.CopyTo(shared).Refusal!.ToldCode());
        Assert.Equal((1, 0), (shared.Find(new()).Value.Count, shared.Verify().Value.Readings));
    }

    [Fact]
    public void A_file_that_is_not_what_was_kept_stops_the_copy_before_anything_is_kept()
    {
        using CardArchive own = CardArchive.Open(_scratch["own"], _scratch.Clock).Value, shared = _scratch.Open();
        Fill(own);
        string photo = Directory.GetFiles(_scratch["own"], "*.jpg", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Last();
        File.AppendAllText(photo, "more");
        Assert.Equal("archive-file-damaged", own.CopyTo(shared).Refusal!.ToldCode());
        Assert.Empty(shared.Find(new()).Value);
        File.Delete(photo);
        Assert.Equal("archive-file-gone", own.CopyTo(shared).Refusal!.ToldCode());
    }

    /// <summary>Something of everything that an archive can hold.</summary>
    private void Fill(CardArchive archive)
    {
        ReadingToKeep ofSeries = Kept.Reading(Kept.Plan(1, material: "birch ply"));
        PhotoRecord photo = ofSeries.Reading.Photos[0] with
        {
            Camera = new() { Make = "Lumen", Model = "Two" },
            Response = new(PhotoResponse.Series, [0.1, 0, 0, 0, 0]) { Covariance = [.. Enumerable.Repeat(0.0, 15)] },
        };
        archive.KeepReading(ofSeries with { Reading = ofSeries.Reading with { Photos = [photo] } });
        archive.KeepReading(Kept.Reading(Kept.Plan(2), "other photo"));
        archive.KeepReading(Kept.Reading(Kept.Plan(2), "other photo", darkness: 0.7));
        archive.KeepReading(Kept.ReadingOf(Kept.Plan(3, material: "maple", batch: null), "a", "b"));
        ReadingToKeep bare = Kept.Reading(Kept.Plan(4, title: "émigré"));
        archive.KeepReading(bare with { Photos = [], AnnotatedPictures = [], Report = default });
        archive.KeepReading(bare with { Photos = [], AnnotatedPictures = [], Reading = bare.Reading with { Recommendations = [] } });
        archive.Prune(new([archive.Resolve("r2").Value], Superseded: false), isMeant: false);
        archive.Rename(NamedKind.Material, "birch ply", "birch plywood");
        archive.AddNote(archive.Resolve("r4").Value, "scorched at the edge");
        archive.AddNote(archive.Resolve("B-1").Value, "from the shelf");
        archive.Tag(archive.Resolve("c1").Value, ["gift"]);
        archive.Close(archive.Resolve("c2").Value.CardId!.Value);
        archive.KeepNeeds(new Dictionary<long, ReadingNeed>
        {
            [1] = new(new(1.5, 0.1, 1500, 1, 0.05), "front", _scratch.Clock.Now.DateTime),
        });
        archive.AddMachineChange(archive.MachineCards().Value[0].MachineId, _scratch.Clock.Now.DateTime, "cleaned the lens");
        string code = archive.Invite(new() { Times = 2, Life = TimeSpan.FromDays(7) }).Value.Code;
        Assert.False(archive.Join(code, "Ana", "android").IsRefused);
    }

    /// <summary>Every row of every table, as text.</summary>
    private static string[] Rows(string folder)
    {
        using SqliteDatabase database = SqliteDatabase.Open(folder).Value;
        List<string> tables = database.Query(
            """
            SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' AND name NOT LIKE 'card_words%'
            ORDER BY name
            """, row => row.Text("name"));
        Assert.Equal(19, tables.Count);
        Assert.All(tables, table => Assert.True(database.Count($"SELECT count(*) FROM {table}") > 0, table));
        return [.. tables.SelectMany(table => database.Query($"SELECT * FROM {table}", row => $"{table} {Text(row)}").Order())];

        static string Text(StoredRow row) => string.Join(' ', row.All().Select(cell => cell.Value is byte[] bytes
            ? $"{cell.Column}={Convert.ToHexString(bytes)}"
            : string.Create(CultureInfo.InvariantCulture, $"{cell.Column}={cell.Value}")));
    }

    private static string[] Files(string folder) => [.. Directory
        .EnumerateFiles(Path.Combine(folder, "files"), "*", SearchOption.AllDirectories)
        .Select(path => $"{Path.GetRelativePath(folder, path)} {CardJson.Sha256(File.ReadAllBytes(path))}").Order(StringComparer.Ordinal)];
}
