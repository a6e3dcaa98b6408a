using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow.Tests;

/// <summary>What the archive tells of how a machine changed over its cards.</summary>
public sealed class HistoryBookTests : IDisposable
{
    private readonly BurnedCards _cards = new();

    private int _number;

    public void Dispose() => _cards.Dispose();

    [Fact]
    public void A_lens_that_got_dirty_is_told_when_the_card_that_shows_it_is_read_and_cleaning_it_starts_anew()
    {
        for (int i = 0; i < 10; i++) Burn(i % 2 == 0 ? "alder" : "slate", 1);
        Assert.Null(HistoryBook.DriftOn(_cards.Archive, Newest().Rows[^1].Card.CardId));
        for (int i = 0; i < 4; i++) Burn(i % 2 == 0 ? "alder" : "slate", 1.25);

        MachineStretch dirty = Newest();
        Warning told = HistoryBook.DriftOn(_cards.Archive, dirty.Rows[^1].Card.CardId)!;

        Assert.Equal(("machine", 10), (dirty.Drift!.Cause, dirty.Drift.Change.Since));
        Assert.InRange(1.25, dirty.Drift.Change.Energy.Low, dirty.Drift.Change.Energy.High);
        Assert.Equal(Codes.MachineDrift, told.Code);
        Assert.Contains("Since card 11 (2026-11-12), bench needs", told.Message, StringComparison.Ordinal);
        Assert.Null(HistoryBook.DriftOn(_cards.Archive, dirty.Rows[0].Card.CardId));

        _cards.Clock.Now = _cards.Clock.Now.AddHours(1);
        MachineChange cleaned = HistoryBook.AddChange(_cards.Archive, "Bench ", "cleaned the lens", on: null).Value;
        Burn("alder", 1);

        MachineStretch clean = Newest();
        Assert.Equal((cleaned, 1, 7), (clean.After, clean.Rows.Count, clean.Chart.Missing));
        Assert.Null(clean.Drift);
        Assert.Equal(cleaned, HistoryBook.RemoveChange(_cards.Archive, cleaned.Name).Value);
        Assert.Equal(15, Newest().Rows.Count);
    }

    [Fact]
    public void A_new_delivery_that_needs_more_is_held_against_a_card_of_the_old_one()
    {
        for (int i = 0; i < 8; i++) Burn("alder", 1, "A-1");
        Burn("slate", 1);
        for (int i = 0; i < 4; i++) Burn("alder", 1.3, "A-2");

        MachineDrift drift = Newest().Drift!;

        Assert.Equal(("delivery", 8), (drift.Cause, drift.Again!.Number));
        Assert.Equal(10, drift.First.Card.Number);
    }

    [Fact]
    public void A_material_that_stayed_as_it_was_does_not_lay_a_new_delivery_of_another_at_the_machines_door()
    {
        for (int i = 0; i < 10; i++) Burn(i % 3 == 2 ? "slate" : "alder", 1, i % 3 == 2 ? null : "A-1");
        for (int i = 0; i < 5; i++) Burn(i % 2 == 0 ? "alder" : "slate", i % 2 == 0 ? 1.3 : 1.01, i % 2 == 0 ? "A-2" : null);

        MachineDrift drift = Newest().Drift!;

        Assert.Equal(("delivery", "A-1"), (drift.Cause, drift.Again!.Material.Batch));
        Assert.Equal("alder", drift.First.Card.Material.Name);
        Assert.InRange(1.3, drift.Change.Energy.Low, drift.Change.Energy.High);
    }

    [Fact]
    public void One_material_of_one_delivery_leaves_it_open_until_another_is_burned()
    {
        for (int i = 0; i < 9; i++) Burn(i == 3 ? "slate" : "alder", 1);
        for (int i = 0; i < 4; i++) Burn("alder", 1.3);

        MachineDrift drift = Newest().Drift!;

        Assert.Equal(("either", "slate"), (drift.Cause, drift.Again!.Material.Name));
    }

    [Fact]
    public void What_was_counted_once_is_kept_and_an_archive_that_cannot_be_written_is_read_all_the_same()
    {
        for (int i = 0; i < 3; i++) Burn("alder", 1);
        Assert.All(Kept(), card => Assert.Null(card.Told));

        MachineStretch counted = Newest();

        Assert.Equal(counted.Rows.Select(row => row.Card.Told), Kept().Select(card => card.Told));
        Assert.All(Kept(), card => Assert.NotNull(card.Told!.Need));
    }

    [Fact]
    public void Whoever_reads_a_card_waits_for_no_more_than_some_others_to_be_counted()
    {
        for (int i = 0; i < 30; i++) Burn("alder", i < 20 ? 1 : 1.3);
        long newest = Kept()[^1].CardId;

        Assert.Null(HistoryBook.DriftOn(_cards.Archive, newest));
        Assert.Equal(5, Kept().Count(card => card.Told is null));
        Assert.NotNull(HistoryBook.DriftOn(_cards.Archive, newest));
        Assert.Equal(Kept().TakeLast(3), _cards.Archive.Use(archive => archive.MachineCards(newest, most: 3)).Value);
    }

    [Fact]
    public void What_was_done_goes_with_the_cards_into_another_archive_once()
    {
        Burn("alder", 1);
        _cards.Clock.Now = _cards.Clock.Now.AddHours(1);
        MachineChange cleaned = HistoryBook.AddChange(_cards.Archive, "bench", "cleaned the lens", on: null).Value;
        string bundle = _cards["all.zip"];
        Assert.False(ExportArchive.Run(_cards.Archive, new(), bundle).IsRefused);
        ArchivePlace other = new(_cards["other"], _cards.Clock);

        for (int i = 0; i < 2; i++) Assert.False(other.Import(bundle).IsRefused);

        Assert.Equal([(cleaned.On, cleaned.What)], HistoryBook.Of(other, null).Value.Changes.Select(change => (change.On, change.What)));
    }

    [Fact]
    public void Another_machine_and_an_unknown_one_are_kept_apart()
    {
        Burn("alder", 1);
        Burn("alder", 1, machine: "attic");

        Assert.Equal(["attic", "bench"], HistoryBook.Of(_cards.Archive, null).Value.Machines.Select(each => each.Machine.Name));
        Assert.Equal(Codes.HistoryUnknown, HistoryBook.Of(_cards.Archive, "cellar").Refusal!.Code);
        Assert.Equal(Codes.HistoryWhich, HistoryBook.AddChange(_cards.Archive, null, "new module", null).Refusal!.Code);
        Assert.Equal(Codes.ChangeLength, HistoryBook.AddChange(_cards.Archive, "bench", " ", null).Refusal!.Code);
        Assert.Equal(Codes.ChangeFuture,
            HistoryBook.AddChange(_cards.Archive, "bench", "new module", _cards.Clock.Now.DateTime.AddDays(3)).Refusal!.Code);
        Assert.Equal(Codes.ChangeUnknown, HistoryBook.RemoveChange(_cards.Archive, "m7").Refusal!.Code);
    }

    private MachineStretch Newest() => HistoryBook.Of(_cards.Archive, "bench").Value.Machines[0].Newest;

    private ValueList<MachineCard> Kept() => _cards.Archive.Use(archive => archive.MachineCards()).Value;

    /// <summary>Burns a card that needs so many times the usual energy, give or take what pieces of one sheet differ by.</summary>
    private void Burn(string material, double energy, string? batch = null, string machine = "bench")
    {
        int number = ++_number;
        Plan plan = CardPlanner.MakePlan(new()
        {
            Number = number,
            Material = new() { Name = material, ThicknessMm = 3, Batch = batch },
            Machine = new() { Name = machine, RatedOpticalWatts = 10 },
            Settings =
            [
                SettingRange.Parse(Setting.PowerPercent, "15:95:5").Value,
                SettingRange.Parse(Setting.SpeedMmPerMin, "1000,2000,4000").Value,
            ],
        }).Value;
        Reading reading = BurnedCards.Reading(plan);
        _cards.Keep(reading with
        {
            Cells = reading.Cells.Select((cell, i) =>
            {
                double strength = 0.8 * (1 - Math.Exp(-plan.DoseOf(cell.Settings)!.Value / energy / (1 + 0.02 * Math.Sin(5 * number))));
                return cell with { Darkness = new(-Math.Log10(1 - strength) + 0.005 * Math.Sin(7 * i + number), 0.01) };
            }).ToValueList(),
        });
    }
}
