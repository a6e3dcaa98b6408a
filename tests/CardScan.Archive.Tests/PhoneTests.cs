using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>Phones whose tone curve is remembered.</summary>
public sealed class PhoneTests : IDisposable
{
    private static readonly PhotoCamera Nova = new() { Make = "Nova", Model = "N1", Lens = "wide" };

    private static readonly DateTime Day = new(2027, 3, 14, 10, 0, 0, DateTimeKind.Unspecified);

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void A_series_is_remembered_under_the_words_of_its_phone()
    {
        using CardArchive archive = _scratch.Open();
        Keep(archive, "a", Nova, Day, -0.3);
        Keep(archive, "b", Nova with { Lens = "tele" }, Day, -0.1);

        Assert.Equal(-0.3, Assert.Single(archive.ResponsesOf(Nova).Value).Terms[0]);
        Assert.Empty(archive.ResponsesOf(Nova with { Software = "2.0" }).Value);
        Assert.Empty(archive.ResponsesOf(new()).Value);
        Assert.Equal(["tele", "wide"], archive.Phones().Value.Select(phone => phone.Camera.Lens));
    }

    [Fact]
    public void Series_of_one_day_count_as_one_and_the_newest_stands()
    {
        using CardArchive archive = _scratch.Open();
        Keep(archive, "a", Nova, Day, -0.3);
        Keep(archive, "b", Nova, Day.AddHours(5), -0.2);
        Keep(archive, "c", Nova, Day.AddDays(1), -0.1);

        Assert.Equal([-0.1, -0.2], archive.ResponsesOf(Nova).Value.Select(response => response.Terms[0]));
        Assert.Equal(["2027-03-15", "2027-03-14"], archive.Phones().Value.Single().Series.Select(series => series.Day));
    }

    [Fact]
    public void What_the_memory_itself_told_is_no_series()
    {
        using CardArchive archive = _scratch.Open();
        Keep(archive, "a", Nova, Day, -0.3, PhotoResponse.Phone);
        Assert.Empty(archive.Phones().Value);
    }

    [Fact]
    public void A_grey_strip_that_no_series_has_shown_is_known_by_its_first_single_photo()
    {
        using CardArchive archive = _scratch.Open();
        Plan strip = Kept.Plan() with
        {
            Kind = CardKind.GreyStrip, Columns = new() { Setting = Setting.PrintedDensity, Values = [0.3, 0.9] },
        };
        Assert.Null(PlanRules.Check(strip));
        string sha256 = CardJson.Sha256(Kept.Json(strip));
        foreach (string photo in (string[])["first", "second"]) Keep(strip, photo, response: null);
        Keep(Kept.Plan(18), "other", response: null);

        Assert.Equal("first.jpg", archive.KnownDarkness(sha256).Value!.Photos[0].File);
        Assert.Null(archive.KnownDarkness(CardJson.Sha256(Kept.Json(Kept.Plan(18)))).Value);

        Keep(strip, "series", new(PhotoResponse.Series, [0, 0, 0, 0, 0]));
        Assert.Equal("series.jpg", archive.KnownDarkness(sha256).Value!.Photos[0].File);

        void Keep(Plan plan, string photo, PhotoResponse? response)
        {
            ReadingToKeep reading = Kept.Reading(plan, photo);
            PhotoRecord only = reading.Reading.Photos[0] with { Response = response };
            Assert.False(archive.KeepReading(reading with { Reading = reading.Reading with { Photos = [only] } }).IsRefused);
        }
    }

    [Fact]
    public void A_forgotten_phone_is_gone_and_its_readings_stay()
    {
        using CardArchive archive = _scratch.Open();
        KeptReading kept = Keep(archive, "a", Nova, Day, -0.3);

        Assert.Equal("Nova N1", archive.ForgetPhone("P1").Value.Camera.Name);
        Assert.Empty(archive.ResponsesOf(Nova).Value);
        Assert.False(archive.Reading(kept.Id).IsRefused);
        Assert.Equal("phone-unknown", archive.ForgetPhone("p1").Refusal!.Code);
        Assert.Equal("phone-unknown", archive.ForgetPhone("r1").Refusal!.Code);
    }

    [Fact]
    public void A_reading_that_is_removed_takes_its_series_with_it()
    {
        using CardArchive archive = _scratch.Open();
        KeptReading kept = Keep(archive, "a", Nova, Day, -0.3);
        Assert.False(archive.Prune(new([archive.Resolve(kept.Name).Value], Superseded: false), isMeant: true).IsRefused);
        Assert.Empty(archive.Phones().Value);
    }

    [Fact]
    public void A_bundle_from_elsewhere_tells_nothing_of_phones()
    {
        string bundle = _scratch["all.zip"];
        using (CardArchive archive = _scratch.Open())
        {
            Keep(archive, "a", Nova, Day, -0.3);
            Assert.False(archive.ExportBundle(new(), bundle).IsRefused);
        }

        using Scratch other = new();
        using CardArchive taken = other.Open();
        Assert.False(taken.ImportBundle(bundle).IsRefused);
        Assert.Empty(taken.Phones().Value);
    }

    private static KeptReading Keep(
        CardArchive archive, string photo, PhotoCamera camera, DateTime taken, double term, string source = PhotoResponse.Series)
    {
        ReadingToKeep what = Kept.Reading(Kept.Plan(), photo);
        PhotoRecord record = what.Reading.Photos[0] with
        {
            Camera = camera, Taken = taken, Response = new(source, [term, 0, 0, 0, 0]) { Covariance = [.. Enumerable.Repeat(0.0, 15)] },
        };
        return archive.KeepReading(what with { Reading = what.Reading with { Photos = [record] } }).Value;
    }
}
