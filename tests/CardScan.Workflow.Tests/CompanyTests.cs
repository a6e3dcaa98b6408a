using CardScan.Model;

namespace CardScan.Workflow.Tests;

public sealed class CompanyTests : IDisposable
{
    private readonly BurnedCards _cards = new();

    public void Dispose() => _cards.Dispose();

    [Fact]
    public void The_first_of_the_named_readings_is_scored_and_the_others_go_with_it()
    {
        string[] names =
            [.. new[] { 19, 17, 18 }.Select(number => _cards.Write($"{number}.json", BurnedCards.Reading(BurnedCards.Plan(number))))];
        ReadingInCompany chosen = Of(names).Value;
        Assert.Equal(19, chosen.Reading.Plan.Number);
        Assert.Equal([17, 18], Numbers(chosen));
        Assert.Empty(chosen.Company.Doubts);
    }

    [Fact]
    public void One_unlike_card_among_the_named_refuses_them_all_and_is_told_with_both_names_and_values()
    {
        string own = Named(17), like = Named(18),
            other = _cards.Write("other.json", BurnedCards.Reading(BurnedCards.Plan(19, batch: "B-2")));
        Refusal refusal = Of(own, like, other).Refusal!;
        Assert.Equal("cards-unlike", refusal.Code);
        Assert.Equal(
            $"{own} and {other}: Card 17 and card 19 cannot be scored together: the batch of card 17 is \"B-1\", that of card 19 \"B-2\".",
            refusal.Seen);
    }

    [Fact]
    public void The_same_reading_is_refused_under_one_name_and_under_two()
    {
        string own = Named(17), copy = _cards.Write("copy.json", BurnedCards.Reading(BurnedCards.Plan(17)));
        Assert.Equal("reading-twice", Of(own, own).Refusal!.Code);
        Assert.Equal("reading-twice", Of(own, copy).Refusal!.Code);
    }

    [Fact]
    public void Two_readings_from_one_photo_of_a_card_are_the_same_reading()
    {
        PhotoRecord photo = new() { File = "a.jpg", Sha256 = new string('a', 64), Light = Light.Front, WidthPx = 1, HeightPx = 1 };
        string[] names = [.. new[] { 0, 0.1 }
            .Select(shade => _cards.Write($"{shade}.json", BurnedCards.Reading(BurnedCards.Plan(17), shade) with { Photos = [photo] }))];
        Assert.Equal("reading-twice", Of(names).Refusal!.Code);
    }

    [Fact]
    public void Two_readings_of_one_card_do_not_count_as_two_cards()
    {
        string again = _cards.Write("again.json", BurnedCards.Reading(BurnedCards.Plan(17), shade: 0.1));
        Assert.Equal("cards-same-number", Of(Named(17), again).Refusal!.Code);
    }

    [Fact]
    public void Nine_readings_are_scored_together_and_ten_are_too_many()
    {
        string[] names = [.. Enumerable.Range(1, 10).Select(Named)];
        Assert.Equal(8, Of(names[..9]).Value.Company.Cards.Count);
        Assert.Equal("cards-many", Of(names).Refusal!.Code);
    }

    [Fact]
    public void A_kept_reading_brings_the_cards_that_were_read_before_it_the_newest_reading_of_each()
    {
        Keep(17);
        Keep(18);
        _cards.Keep(BurnedCards.Reading(BurnedCards.Plan(3, batch: "B-2")));
        _cards.Keep(BurnedCards.Reading(BurnedCards.Plan(4, focusOffsetMm: -1)));
        string name = Keep(19);
        Keep(20);
        Reading again = BurnedCards.Reading(BurnedCards.Plan(17), shade: 0.05);
        _cards.Keep(again);

        ReadingInCompany chosen = Of(name).Value;
        Assert.Equal([17, 18], Numbers(chosen));
        Assert.Equal(again, chosen.Company.Cards[0].Reading);
        Assert.Equal([17, 18], Numbers(Of("19").Value));
        Assert.Empty(Numbers(CompanyChoice.Of([name], _cards.Archive, isAlone: true).Value));
        Assert.Equal([18], Numbers(Of(name, "18").Value));
    }

    [Fact]
    public void The_newest_eight_cards_of_the_archive_are_enough()
    {
        for (int number = 1; number <= 10; number++) Keep(number);
        Assert.Equal([10, 9, 8, 7, 6, 5, 4, 3],
            CompanyFinder.Of(BurnedCards.Reading(BurnedCards.Plan(30)), _cards.Archive).Cards.Select(card => card.Number));
    }

    [Fact]
    public void Cards_of_the_same_run_come_before_the_archives_reading_of_the_same_card()
    {
        Keep(17);
        Keep(18);
        Reading again = BurnedCards.Reading(BurnedCards.Plan(17), shade: 0.05),
            unlike = BurnedCards.Reading(BurnedCards.Plan(5, batch: "B-2"));
        Company company = CompanyFinder.Of(BurnedCards.Reading(BurnedCards.Plan(30)), _cards.Archive, justRead: [again, unlike]);
        Assert.Equal([again, BurnedCards.Reading(BurnedCards.Plan(18))], company.Readings);
    }

    [Fact]
    public void A_reading_from_a_file_brings_nothing_and_says_what_it_was_scored_with()
    {
        Keep(17);
        JoinedCard joined = new() { Number = 17, CellsUsed = 4 };
        string file = _cards.Write("19.json", BurnedCards.Reading(BurnedCards.Plan(19)) with { Joined = [joined] });
        ReadingInCompany chosen = Of(file).Value;
        Assert.Empty(chosen.Company.Cards);
        Warning doubt = Assert.Single(chosen.Company.Doubts);
        Assert.Equal("joined-left-out", doubt.Code);
        Assert.Contains("was scored together with card 17 (4 cells) when it was read", doubt.Message, StringComparison.Ordinal);

        Assert.Empty(CompanyChoice.Of([file], _cards.Archive, isAlone: true).Value.Company.Doubts);
        Assert.Empty(Of(file, Named(17)).Value.Company.Doubts);
    }

    [Fact]
    public void An_archive_that_is_not_there_brings_nothing_without_a_word()
    {
        Company company = CompanyFinder.Of(BurnedCards.Reading(BurnedCards.Plan(30)), _cards.Archive);
        Assert.Empty(company.Cards);
        Assert.Empty(company.Doubts);
    }

    [Fact]
    public void A_damaged_archive_or_reading_costs_the_company_and_is_told_as_a_doubt()
    {
        Keep(17);
        string damaged = Keep(18);
        Damage(damaged);
        Company company = CompanyFinder.Of(BurnedCards.Reading(BurnedCards.Plan(30)), _cards.Archive);
        Assert.Equal([17], company.Cards.Select(card => card.Number));
        Assert.Contains("card 18: r2 could not be read", Assert.Single(company.Doubts, doubt => doubt.Code == "earlier-unread").Message,
            StringComparison.Ordinal);

        File.WriteAllText(Path.Combine(_cards.Archive.Folder, "archive.db"), new string('x', 200));
        company = CompanyFinder.Of(BurnedCards.Reading(BurnedCards.Plan(30)), _cards.Archive);
        Assert.Empty(company.Cards);
        Assert.Contains("the archive could not be searched", Assert.Single(company.Doubts).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_focus_ladder_has_no_company()
    {
        Keep(17);
        Assert.Same(
            Company.None, CompanyFinder.Of(BurnedCards.Reading(BurnedCards.Plan(30) with { Kind = CardKind.FocusLadder }), _cards.Archive));
    }

    [Fact]
    public void The_day_of_a_card_is_that_of_its_photo_and_of_its_first_reading()
    {
        PhotoRecord photo = new()
        {
            File = "a.jpg",
            Sha256 = new string('a', 64),
            Light = Light.Front,
            WidthPx = 1,
            HeightPx = 1,
            Taken = new(2026, 10, 30, 9, 0, 0)
        };
        Reading reading = BurnedCards.Reading(BurnedCards.Plan(17)) with { Photos = [photo] };
        _cards.Keep(reading);
        DateTime first = _cards.Clock.Now.UtcDateTime;
        _cards.Keep(BurnedCards.Reading(BurnedCards.Plan(17), shade: 0.1) with { Photos = [photo] });
        Reading own = BurnedCards.Reading(BurnedCards.Plan(30));
        Company company = CompanyFinder.Of(own, _cards.Archive);

        Assert.Equal(
            new JoinedCard { Number = 17, PlanSha256 = reading.PlanSha256, CellsUsed = 4, Taken = photo.Taken, FirstReadUtc = first },
            Assert.Single(company.Listed));
        JoinedCard joined = Assert.Single(company.Dated(own with { Joined = [new() { Number = 17, CellsUsed = 3 }] }).Joined!);
        Assert.Equal((3, photo.Taken, first), (joined.CellsUsed, joined.Taken, joined.FirstReadUtc));
    }

    [Fact]
    public void A_card_that_is_read_asks_the_archive_for_its_company_unless_it_is_to_stay_alone()
    {
        string photo = Path.Combine(AppContext.BaseDirectory, "Data", "birch-engrave.jpg"),
            plan = Path.Combine(AppContext.BaseDirectory, "Data", "birch-engrave.plan.json");
        Plan other = CardJson.ReadPlan(File.ReadAllBytes(plan)).Value.Plan;
        other = other with
        {
            Number = 18,
            Fiducials = other.Fiducials with
            {
                Markers = other.Fiducials.Markers.Select(marker => marker with { Id = marker.Id + 4 }).ToValueList()
            }
        };
        Damage(_cards.Keep(BurnedCards.Reading(other)));
        ReadRequest request = new() { Photos = [photo], Plans = [plan], Archive = _cards.Archive };

        ReadResult alone = ReadOne.Run(request with { IsAlone = true }).Value;
        ReadResult inCompany = ReadOne.Run(request).Value;

        Assert.Empty(alone.Doubts);
        Assert.Equal("earlier-unread", Assert.Single(inCompany.Doubts).Code);
        Assert.NotEmpty(inCompany.Reading.Recommendations);
        Assert.False(inCompany.Kept!.IsRefused);
    }

    [Fact]
    public void The_next_card_is_planned_by_the_company_and_says_so()
    {
        Keep(17);
        NextCardMade made = PlanNext.Run(new() { Readings = [Keep(19)], Archive = _cards.Archive, OutputFolder = _cards["next"] }).Value;
        Assert.Equal(19, made.After);
        Assert.Equal([17], made.Joined.Select(card => card.Number));
        Assert.Empty(PlanNext.Run(new()
        {
            Readings = ["19"],
            IsAlone = true,
            Archive = _cards.Archive,
            OutputFolder = _cards["alone"]
        }).Value.Joined);
    }

    private void Damage(string reading)
    {
        using Microsoft.Data.Sqlite.SqliteConnection connection =
            new($"Data Source={Path.Combine(_cards.Archive.Folder, "archive.db")};Pooling=False");
        connection.Open();
        using Microsoft.Data.Sqlite.SqliteCommand command = connection.CreateCommand();
        // Brotli of the three letters "{}\n": what was packed well and is no reading.
        command.CommandText = $"UPDATE reading SET reading = x'0b01807b7d0a03' WHERE id = {reading[1..]}";
        Assert.Equal(1, command.ExecuteNonQuery());
    }

    private Outcome<ReadingInCompany> Of(params string[] names) => CompanyChoice.Of(names.ToValueList(), _cards.Archive, isAlone: false);

    private string Named(int number) => _cards.Write($"{number}.json", BurnedCards.Reading(BurnedCards.Plan(number)));

    private string Keep(int number) => _cards.Keep(BurnedCards.Reading(BurnedCards.Plan(number)));

    private static int[] Numbers(ReadingInCompany chosen) => [.. chosen.Company.Cards.Select(card => card.Number)];
}
