using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>Names that were typed in several ways, brought together and taken apart again.</summary>
public sealed class NamesTests : IDisposable
{
    private readonly Scratch _scratch = new();
    private readonly CardArchive _archive;

    public NamesTests()
    {
        _archive = _scratch.Open();
        Keep(1, "birch plywood", "B-0412");
        Keep(2, "birch plywood", "B-0412");
        Keep(3, "Birch Ply", "B0412");
        Keep(4, "Birch plywood 3mm", null);
        Keep(5, "cherry", "B-0412");
    }

    public void Dispose()
    {
        _archive.Dispose();
        _scratch.Dispose();
    }

    [Theory]
    [InlineData("birch ply", "Birch Plywood", true)]
    [InlineData("Birch plywood 3mm", "birch  plywood", true)]
    [InlineData("maple board 3 mm", "Maple boards", true)]
    [InlineData("B-0412", "b 0412", true)]
    [InlineData("brass", "bras", false)]
    [InlineData("birch", "birch plywood", false)]
    [InlineData("diode 10", "diode 20", false)]
    public void Names_of_one_key_are_likely_one(string name, string other, bool areLike) =>
        Assert.Equal(areLike, NameKey.Of(name) == NameKey.Of(other));

    [Theory]
    [InlineData("birch 3mm", 3.0)]
    [InlineData("3 mm birch", 3.0)]
    [InlineData("0.125in acrylic", 3.175)]
    [InlineData("B-3 mm", null)]
    [InlineData("3 mm of 6 mm", null)]
    [InlineData("0 mm", null)]
    [InlineData("3mmx", null)]
    public void A_text_may_name_a_thickness(string text, double? mm) => Assert.Equal(mm, NameKey.ThicknessMm(text));

    [Fact]
    public void Like_names_are_told_and_nothing_is_brought_together_by_itself()
    {
        LikeNames[] names = [.. _archive.LikeNames().Value];
        Assert.Equal(
            [(NamedKind.Material, "Birch plywood 3mm", "birch plywood"), (NamedKind.Material, "Birch Ply", "birch plywood")],
            names.Select(like => (like.Kind, like.Name, like.Usual)));
        Assert.Equal(4, Materials().Length);
    }

    [Fact]
    public void A_material_is_kept_under_another_name_and_taken_back_without_a_trace()
    {
        string[] before = Materials();
        KeptName kept = _archive.Rename(NamedKind.Material, "birch ply", "birch plywood").Value;
        Assert.Equal((1, "Birch Ply", "birch plywood"), (kept.Cards, kept.Old, kept.New));
        Assert.Equal(["Birch plywood 3mm", "birch plywood", "cherry"], Materials().Order(StringComparer.Ordinal));
        Assert.Equal([3, 2, 1], Found(new() { Material = "birch plywood", Batch = "0412" }));
        Assert.Equal([3], Found(new() { Material = "Birch Ply", Batch = "B0412" }));
        // By the name that it is kept under and by its own.
        Assert.Contains(3, Found(new() { Text = "plywood" }));
        Assert.Equal([kept], _archive.KeptNames().Value);
        Assert.Empty(_archive.Verify().Value.Faults);

        Assert.Equal(1, _archive.TakeNameBack(NamedKind.Material, "Birch Ply").Value.Cards);
        Assert.Equal(before, Materials());
        Assert.DoesNotContain(3, Found(new() { Text = "plywood" }));
        Assert.Empty(_archive.KeptNames().Value);
    }

    [Fact]
    public void What_is_brought_together_confirms_one_setting()
    {
        Assert.Equal(4, _archive.Settings(new()).Value.Select(setting => setting.Card.Material).Distinct().Count());
        _archive.Rename(NamedKind.Material, "Birch Ply", "birch plywood");
        KeptSetting setting = _archive.Settings(new() { Material = "birch plywood" }).Value
            .First(each => each.Card.Material == "birch plywood");
        Assert.Equal(3, setting.Card.Number);
        Assert.Equal([2, 1], setting.Agreeing.Select(other => other.Number));
        // Two deliveries until they are brought together as well.
        Assert.All(setting.Agreeing, other => Assert.False(other.IsSameBatch));
        LikeNames batch = Assert.Single(_archive.LikeNames().Value, like => like.Kind == NamedKind.Batch);
        Assert.Equal(("birch plywood/B0412", "B-0412"), (batch.Name, batch.Usual));
        Assert.Equal("Birch Ply/B0412", _archive.Rename(NamedKind.Batch, "B0412", "B-0412").Value.Old);
        Assert.All(
            _archive.Settings(new() { Number = 3 }).Value.SelectMany(each => each.Agreeing), other => Assert.True(other.IsSameBatch));
        Assert.Equal([3, 2, 1], Found(new() { Subject = _archive.Resolve("birch plywood/B-0412").Value }));
        Assert.Equal("archive-which", _archive.Resolve("B-0412").Refusal!.ToldCode());
    }

    [Fact]
    public void A_card_that_comes_later_with_the_old_name_follows_it()
    {
        _archive.Rename(NamedKind.Material, "Birch Ply", "birch plywood");
        string bundle = _scratch["all.zip"];
        using Scratch other = new();
        using (CardArchive elsewhere = other.Open())
        {
            elsewhere.KeepReading(Kept.Reading(Kept.Plan(9, "Birch Ply"), "photo 9"));
            Assert.False(elsewhere.ExportBundle(new(), bundle).IsRefused);
        }

        Assert.Equal(1, _archive.ImportBundle(bundle).Value.Cards);
        Assert.Equal("birch plywood", _archive.Find(new() { Number = 9 }).Value.Single().Material);
    }

    [Fact]
    public void Names_may_be_turned_round_and_stand_in_a_chain()
    {
        _archive.Rename(NamedKind.Material, "Birch Ply", "birch plywood");
        _archive.Rename(NamedKind.Material, "birch plywood", "baltic birch");
        Assert.Equal([3, 2, 1], Found(new() { Material = "baltic" }));
        _archive.Rename(NamedKind.Material, "baltic birch", "birch plywood");
        Assert.DoesNotContain("baltic birch", Materials());
        _archive.Rename(NamedKind.Material, "birch plywood", "Birch Ply");
        Assert.Equal(["Birch Ply", "Birch plywood 3mm", "cherry"], Materials().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_machine_is_renamed_with_all_of_its_powers_and_they_stay_apart()
    {
        Plan plan = Kept.Plan(6, "oak");
        _archive.KeepReading(Kept.Reading(plan with { Machine = plan.Machine with { RatedOpticalWatts = 20 } }, "photo 6"));
        Assert.Equal(6, _archive.Rename(NamedKind.Machine, "bench", "Bench diode").Value.Cards);
        Assert.Equal([10, 20], _archive.Settings(new()).Value.Select(setting => setting.Machine.RatedOpticalWatts).Distinct().Order());
        Assert.All(_archive.Settings(new()).Value, setting => Assert.Equal("Bench diode", setting.Machine.Name));
    }

    [Theory]
    [InlineData("birhc plywood", "x", "rename-unknown")]
    [InlineData("cherry", "cherry", "rename-same")]
    [InlineData("cherry", " ", "rename-length")]
    [InlineData("cherry", null, "rename-none")]
    public void What_cannot_be_renamed_is_refused(string old, string? newName, string code)
    {
        Outcome<KeptName> outcome = newName is null
            ? _archive.TakeNameBack(NamedKind.Material, old)
            : _archive.Rename(NamedKind.Material, old, newName);
        Assert.Equal(code, outcome.Refusal!.ToldCode());
        Assert.Equal(4, Materials().Length);
    }

    private void Keep(int number, string material, string? batch) =>
        Assert.False(_archive.KeepReading(Kept.Reading(Kept.Plan(number, material, batch), $"photo {number}")).IsRefused);

    private string[] Materials() => [.. _archive.Find(new()).Value.Select(card => card.Material).Distinct()];

    private int[] Found(ArchiveQuery query) => [.. _archive.Find(query).Value.Select(card => card.Number)];
}
