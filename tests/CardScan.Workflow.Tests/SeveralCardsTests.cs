using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Two cards in one photo, from the file to the settings and their difference.</summary>
public sealed class SeveralCardsTests : IDisposable
{
    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;
    private readonly string _photo;

    public SeveralCardsTests()
    {
        _photo = Path.Combine(_scratch, "both.jpg");
        File.WriteAllBytes(_photo, PhotoOfBoth.Of(Data("birch-engrave.jpg"), Data("second/birch-second.jpg")));
    }

    private ArchivePlace Place => new(Path.Combine(_scratch, "archive"), TimeProvider.System);

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    [Fact]
    public void Each_card_is_read_by_its_own_plan_and_the_photo_is_kept_once()
    {
        Keep("birch-engrave.plan.json", "second/plan.json");

        ReadCardsResult result = ReadCards.Run(new() { Photos = [_photo], Archive = Place }).Value;

        Assert.Empty(result.Refused);
        Assert.Equal(
            [NumberOf("second/plan.json"), NumberOf("birch-engrave.plan.json")], result.Cards.Select(card => card.Reading.Plan.Number));
        Assert.All(result.Cards, card => Assert.False(card.Kept!.IsRefused));
        AsAlone(result.Cards[0].Reading, "second/birch-second.jpg", "second/plan.json");
        AsAlone(result.Cards[1].Reading, "birch-engrave.jpg", "birch-engrave.plan.json");
        string sha256 = CardJson.Sha256(File.ReadAllBytes(_photo));
        Assert.Single(Directory.EnumerateFiles(Place.Folder, $"{sha256}*", SearchOption.AllDirectories));
    }

    [Fact]
    public void One_card_of_those_in_the_photo_can_be_asked_for()
    {
        Keep("birch-engrave.plan.json", "second/plan.json");
        int wanted = NumberOf("second/plan.json");

        ReadCardsResult result = ReadCards.Run(new() { Photos = [_photo], Archive = Place, Card = wanted }).Value;
        ReadCardsResult other = ReadCards.Run(new() { Photos = [_photo], Archive = Place, Card = 240 }).Value;

        Assert.Equal(wanted, Assert.Single(result.Cards).Reading.Plan.Number);
        Assert.Empty(result.Refused);
        Assert.Equal(Codes.OtherCard, Assert.Single(other.Refused).Refusal.Code);
        Assert.Contains("not card 240", other.Refused[0].Refusal.Seen, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_card_that_was_read_by_a_series_tells_the_tones_of_the_one_beside_it(bool isOtherAloneAskedFor)
    {
        Keep("birch-engrave.plan.json", "second/plan.json");
        int known = NumberOf("birch-engrave.plan.json"), other = NumberOf("second/plan.json");
        string[] series = [.. new[] { 1, 0.4 }.Select(factor =>
        {
            string path = Path.Combine(_scratch, $"{factor}.jpg");
            File.WriteAllBytes(path, ExposedPhoto.Of(Data("birch-engrave.jpg"), factor));
            return path;
        })];
        Assert.False(ReadOne.Run(new() { Photos = [.. series], Archive = Place }).IsRefused);
        ReadRequest request = new() { Photos = [_photo], Archive = Place, IsAlone = true, Card = isOtherAloneAskedFor ? other : null };

        PhotoRecord told = PhotoOf(other, request), plain = PhotoOf(other, request with { HasPlainTones = true });

        Assert.Equal((PhotoResponse.Card, known), (told.Response!.Source, told.Response.CardNumber));
        Assert.True(told.Quality!.DarknessScaleError < plain.Quality!.DarknessScaleError);
        Assert.Null(plain.Response);
        if (!isOtherAloneAskedFor) Assert.Null(PhotoOf(known, request).Response);

        static PhotoRecord PhotoOf(int number, ReadRequest request) =>
            ReadCards.Run(request).Value.Cards.Single(card => card.Reading.Plan.Number == number).Reading.Photos[0];
    }

    [Fact]
    public void A_card_without_a_plan_is_refused_by_its_name_and_the_other_is_read()
    {
        Keep("birch-engrave.plan.json");

        ReadCardsResult result = ReadCards.Run(new() { Photos = [_photo], Archive = Place }).Value;

        Assert.Equal(NumberOf("birch-engrave.plan.json"), Assert.Single(result.Cards).Reading.Plan.Number);
        RefusedPhoto refused = Assert.Single(result.Refused);
        Assert.Equal($"card {NumberOf("second/plan.json")} in both.jpg", refused.Name);
        Assert.Equal(Codes.CardUnknown, refused.Refusal.Code);
    }

    [Fact]
    public void Photos_that_come_one_by_one_are_seen_once_for_each_card()
    {
        Keep("birch-engrave.plan.json", "second/plan.json");
        using PhotoSitting sitting = new(Place);

        ValueList<SeenPhoto> seen = sitting.See(_photo, "both.jpg");

        Assert.Equal(2, seen.Count);
        Assert.All(seen, card => Assert.Equal(card.CardNumber, sitting.Read(card).Value.Reading.Plan.Number));
        Assert.False(sitting.Glance(File.ReadAllBytes(_photo), "both.jpg").IsRefused);
    }

    /// <summary>
    /// The halves were rendered apart, each in a light of its own, so that the ratio is not what it would be in one photo: only the way
    /// is looked at. The second card needs every dose 1.12 times as high (docs/method/comparing.md).
    /// </summary>
    [Fact]
    public void The_two_are_compared_in_one_light()
    {
        Keep("birch-engrave.plan.json", "second/plan.json");
        ReadCardsResult read = ReadCards.Run(new() { Photos = [_photo], Archive = Place }).Value;

        ValueList<LoadedReading> loaded = ReadingSource.Load([], null, read.Cards.Select(card => card.Reading)).Value;
        ComparedPair pair = CompareCards.Run(CompareRequest.Of(loaded, [], margin: null)).Value.Comparison.Pairs[0];

        Assert.InRange(1 / 1.12, pair.RelativeDose!.Low, pair.RelativeDose.High);
        Assert.Contains(pair.Notes, note => note.Code == Codes.OneLight);
        Assert.DoesNotContain(pair.Notes, note => note.Code == Codes.UnlikePhotos);
    }

    private static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    private static int NumberOf(string plan) => CardJson.ReadPlan(File.ReadAllBytes(Data(plan))).Value.Plan.Number;

    private void Keep(params string[] plans)
    {
        using CardArchive archive = CardArchive.Open(Place.Folder, TimeProvider.System).Value;
        foreach (string plan in plans) Assert.False(archive.KeepCard(File.ReadAllBytes(Data(plan))).IsRefused);
    }

    private static void AsAlone(Reading reading, string photo, string plan)
    {
        Reading alone = ReadOne.Run(new() { Photos = [Data(photo)], Plans = [Data(plan)] }).Value.Reading;
        Assert.All(alone.Cells.Zip(reading.Cells), cell => Assert.InRange(
            Math.Abs(cell.First.Darkness!.Value - cell.Second.Darkness!.Value), 0, 2 * cell.First.Darkness.StandardError));
    }
}
