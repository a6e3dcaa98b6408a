using CardScan.Model;

namespace CardScan.Archive.Tests;

public sealed class FindingTests : IDisposable
{
    private readonly Scratch _scratch = new();
    private readonly CardArchive _archive;

    public FindingTests()
    {
        _archive = _scratch.Open();
        Keep(1, "birch plywood", "B-0412", 3, title: "drawer fronts", photo: "IMG_0001");
        Keep(2, "birch plywood", "B-0421", 4, photo: "IMG_0002");
        Keep(3, "100% wool_felt", null, 3, photo: "IMG_0003");
        _archive.KeepCard(Kept.Json(Kept.Plan(4, "Äsche", "B-0412", 5)));
    }

    public void Dispose()
    {
        _archive.Dispose();
        _scratch.Dispose();
    }

    public static TheoryData<string, ArchiveQuery, int[]> Queries => new()
    {
        { "all", new(), [4, 3, 2, 1] },
        { "material", new() { Material = "BIRCH" }, [2, 1] },
        { "a sign that patterns use", new() { Material = "%" }, [3] },
        { "another", new() { Material = "l_f" }, [3] },
        { "batch", new() { Batch = "0412" }, [4, 1] },
        { "machine", new() { Machine = "bench" }, [4, 3, 2, 1] },
        { "thickness", new() { ThicknessMm = 3 }, [3, 1] },
        { "number", new() { Number = 2 }, [2] },
        { "process", new() { Process = Process.Cut }, [] },
        { "beginning of a word", new() { Text = "draw" }, [1] },
        { "two words", new() { Text = "birch B-0421" }, [2] },
        { "without its dots", new() { Text = "asche" }, [4] },
        { "a photo's name", new() { Text = "IMG_0003" }, [3] },
        { "words of the search language", new() { Text = "birch OR wool" }, [] },
        { "signs of the search language", new() { Text = "\"birch* AND (" }, [] },
        { "a NUL between words", new() { Text = "draw\0front" }, [1] },
        { "signs alone", new() { Text = "*\"(" }, [4, 3, 2, 1] },
        { "first two", new() { Most = 2 }, [4, 3] },
        { "from", new() { From = new(2026, 3, 3, 0, 0, 0, TimeSpan.Zero) }, [4, 3] },
        { "before", new() { Before = new(2026, 3, 3, 0, 0, 0, TimeSpan.Zero) }, [2, 1] },
        { "both", new() { Material = "birch", ThicknessMm = 4 }, [2] },
    };

    [Theory]
    [MemberData(nameof(Queries))]
    public void A_query_finds_the_cards_that_answer_it_newest_first(string what, ArchiveQuery query, int[] numbers)
    {
        Assert.Equal(numbers, _archive.Find(query).Value.Select(card => card.Number));
        if (query.Most > 10) Assert.True(numbers.Length == _archive.Count(query).Value, what);
    }

    [Fact]
    public void Notes_and_tags_are_found_whatever_they_are_on()
    {
        _archive.AddNote(Named("c1"), "smells of oranges");
        _archive.AddNote(Named("r2"), "oranges too");
        _archive.AddNote(Named("birch plywood/B-0412"), "warped");
        _archive.Tag(Named("r2"), ["keep"]);
        _archive.Tag(Named("birch plywood/B-0412"), ["damp"]);
        Assert.Equal([2, 1], Numbers(new() { Text = "orange" }));
        Assert.Equal([1], Numbers(new() { Text = "warped" }));
        Assert.Equal([2], Numbers(new() { Tag = "keep" }));
        Assert.Equal([1], Numbers(new() { Tag = "damp" }));
        _archive.Tag(Named("r2"), ["keep"], isOff: true);
        Assert.Empty(Numbers(new() { Tag = "keep" }));
        Assert.Empty(Numbers(new() { Text = "keep" }));
    }

    [Theory]
    [InlineData("r2", null, 2)]
    [InlineData("R2", null, 2)]
    [InlineData("c2", 2, null)]
    [InlineData("2", 2, null)]
    [InlineData(" 2 ", 2, null)]
    public void Names_mean_readings_cards_and_numbers(string name, int? card, int? reading) =>
        Assert.Equal((card, reading), ((int?)Named(name).CardId, (int?)Named(name).ReadingId));

    [Fact]
    public void A_batch_of_several_materials_is_asked_for_by_its_material()
    {
        Assert.Equal("archive-which", _archive.Resolve("B-0412").Refusal!.ToldCode());
        Assert.NotNull(Named("Birch Plywood/b-0412").BatchId);
        Assert.NotNull(Named("batch:B-0421").BatchId);
        foreach (string name in (string[])["r99", "c99", "99", "nothing", "", "r", "c-1"])
            Assert.Equal("archive-no-such", _archive.Resolve(name).Refusal!.ToldCode());
    }

    [Fact]
    public void A_number_means_the_newest_open_card_and_a_closed_one_only_where_none_is_open()
    {
        KeptCard second = _archive.KeepCard(Kept.Json(Kept.Plan(1, "lime"))).Value;
        Assert.Equal(second.Id, Named("1").CardId);
        _archive.Close(second.Id);
        Assert.Equal(1, Named("1").CardId);
        Assert.Equal([1L], _archive.OpenCards(1).Value.Select(card => card.Id));
        _archive.Close(1);
        Assert.Equal(second.Id, Named("1").CardId);
        Assert.Empty(_archive.OpenCards(1).Value);
        _archive.Close(1, isOpenedAgain: true);
        Assert.Equal(1, Named("1").CardId);
    }

    [Fact]
    public void A_setting_is_told_with_the_passes_and_the_line_interval_of_its_cell()
    {
        ReadingToKeep what = Kept.Reading(Kept.Plan(7, "felt"), "felt");
        CellReading cell = what.Reading.Cells[0];
        _archive.KeepReading(what with
        {
            Reading = what.Reading with
            {
                Cells = [cell with { Settings = cell.Settings with { Passes = 3, LineIntervalMm = 0.08, FocusOffsetMm = -1 } }],
                Recommendations = [what.Reading.Recommendations[0] with { Cell = new(cell.Row, cell.Column) }],
            },
        });
        RecommendationEntry best = Assert.Single(_archive.Settings(new() { Material = "felt", Number = 7 }).Value).Recommendation;
        Assert.Equal((3, 0.08, -1), (best.Passes, best.LineIntervalMm, best.FocusOffsetMm));
        Assert.Equal(best, Assert.Single(_archive.Find(new() { Number = 7 }).Value[0].Recommendations));
    }

    [Fact]
    public void Nothing_is_pruned_before_it_is_meant_and_then_what_was_told()
    {
        _archive.KeepReading(Kept.Reading(Kept.Plan(1, "birch plywood", "B-0412", 3, "drawer fronts"), "IMG_0001", darkness: 0.9));
        PruneRequest what = new([Named("c2")], Superseded: true);
        PrunedPart told = _archive.Prune(what, isMeant: false).Value;
        Assert.Equal(["c2"], told.Cards);
        Assert.Equal(["r1", "r2"], told.Readings);
        Assert.All(told.Files, file => Assert.NotNull(_scratch.Store.Bytes(file)));
        Assert.Equal(4, _archive.Find(new()).Value.Count);

        Assert.Equal(told, _archive.Prune(what, isMeant: true).Value);
        Assert.All(told.Files, file => Assert.Null(_scratch.Store.Bytes(file)));
        Assert.Equal([4, 3, 1], Numbers(new()));
        Assert.Empty(_archive.Verify().Value.Faults);
        Assert.Empty(_archive.Verify().Value.Leftovers);
        Assert.Contains("IMG_0001.jpg", _archive.ReadingsOf(1).Value.Single().Photos.Select(photo => photo.FileName));
    }

    [Fact]
    public void A_current_reading_that_is_pruned_makes_way_for_the_one_before_it()
    {
        long newer = _archive.KeepReading(
            Kept.Reading(Kept.Plan(1, "birch plywood", "B-0412", 3, "drawer fronts"), "IMG_0001", darkness: 0.9)).Value.Id;
        _archive.Prune(new([Named($"r{newer}")], Superseded: false), isMeant: true);
        Assert.Equal([(1L, true)], _archive.ReadingsOf(1).Value.Select(reading => (reading.Id, reading.IsCurrent)));
    }

    private void Keep(int number, string material, string? batch, double thicknessMm, string title = "", string photo = "photo")
    {
        _archive.KeepReading(Kept.Reading(Kept.Plan(number, material, batch, thicknessMm, title), photo, darkness: 0.1 * number));
        _scratch.Clock.Now = _scratch.Clock.Now.AddDays(1);
    }

    private ArchiveSubject Named(string name) => _archive.Resolve(name).Value;

    private int[] Numbers(ArchiveQuery query) => [.. _archive.Find(query).Value.Select(card => card.Number)];
}
