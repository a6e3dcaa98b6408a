using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Photos of one card in different brightness, from the files to the kept reading.</summary>
public sealed class PhotoSeriesTests : IDisposable
{
    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    private ArchivePlace Place => new(Path.Combine(_scratch, "archive"), TimeProvider.System);

    private ReadRequest Request => new() { Photos = [], Plans = [Data("birch-engrave.plan.json")], Archive = Place };

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    [Fact]
    public void A_darker_photo_beside_the_usual_one_tells_the_curve()
    {
        ReadResult alone = ReadOne.Run(Request with { Photos = [Exposed("usual.jpg", 1)], Archive = null }).Value;
        ReadResult series = ReadOne.Run(Request with { Photos = [Exposed("usual.jpg", 1), Exposed("dark.jpg", 0.4)] }).Value;

        Assert.Null(alone.Reading.Photos[0].Response);
        Assert.Empty(series.Refused);
        Assert.All(series.Reading.Photos, photo => Assert.Equal(PhotoResponse.Series, photo.Response!.Source));
        Assert.True(ErrorOf(series) < 0.8 * ErrorOf(alone), $"{ErrorOf(series)} beside {ErrorOf(alone)}");
        Assert.False(series.Kept!.IsRefused);

        static double ErrorOf(ReadResult read) => read.Reading.Photos.Max(photo => photo.Quality!.DarknessScaleError!.Value);
    }

    [Fact]
    public void A_photo_too_bright_to_be_read_is_left_out_by_name_and_still_tells_of_the_curve()
    {
        ReadResult series = ReadOne.Run(Request with { Photos = [Exposed("usual.jpg", 0.6), Exposed("bright.jpg", 2.6)] }).Value;

        RefusedPhoto refused = Assert.Single(series.Refused);
        Assert.Equal(("bright.jpg", Codes.Overexposed), (refused.Name, refused.Refusal.Code));
        Assert.NotNull(Assert.Single(series.Reading.Photos).Response);
    }

    [Fact]
    public void Photos_that_come_one_by_one_are_a_series_too()
    {
        using PhotoSitting sitting = Sit();

        Reading first = ReadNext(sitting, Exposed("usual.jpg", 1)), second = ReadNext(sitting, Exposed("dark.jpg", 0.4));

        Assert.Null(first.Photos[0].Response);
        Assert.Equal(2, second.Photos.Count(photo => photo.Response is not null));
    }

    [Theory]
    [InlineData("bright.jpg", "usual.jpg")]
    [InlineData("usual.jpg", "bright.jpg")]
    public void A_photo_too_bright_to_be_read_tells_of_the_curve_before_the_other_one_and_after_it(string first, string second)
    {
        Dictionary<string, double> exposures = new() { ["usual.jpg"] = 0.6, ["bright.jpg"] = 2.6 };
        using PhotoSitting sitting = Sit();

        Outcome<ReadResult>[] read = [.. new[] { first, second }.Select(name => Read(sitting, Exposed(name, exposures[name])))];

        Assert.Equal(first == "bright.jpg" ? Codes.Overexposed : null, read[0].Refusal?.Code);
        Assert.NotNull(Assert.Single(read[1].Value.Reading.Photos).Response);
    }

    [Fact]
    public void A_phone_is_remembered_until_it_is_forgotten_and_can_be_left_out()
    {
        string usual = Taken("usual.jpg", 1, "2027:03:16 10:00:00");
        Reading before = ReadAlone(usual);
        foreach (int day in (int[])[14, 15])
            KeepSeries($"2027:03:{day} 10:00:00");

        Reading after = ReadAlone(usual), without = Read(Request with { Photos = [usual], HasPlainTones = true }).Value.Reading;

        Assert.Equal((PhotoResponse.Phone, 2), (after.Photos[0].Response!.Source, after.Photos[0].Response!.SeriesCount));
        Assert.True(ErrorOf(after) < 0.8 * ErrorOf(before), $"{ErrorOf(after)} beside {ErrorOf(before)}");
        Assert.Equal(before.Cells, without.Cells);
        Assert.Equal("p1", Place.ForgetPhone("p1").Value.Name);
        Assert.Equal(before.Cells, ReadAlone(usual).Cells);

        static double ErrorOf(Reading reading) => reading.Photos[0].Quality!.DarknessScaleError!.Value;
        Reading ReadAlone(string photo) => Read(Request with { Photos = [photo] }).Value.Reading;
    }

    [Fact]
    public void A_series_of_a_phone_that_is_remembered_tells_the_same_curve()
    {
        ReadRequest again = Request with
        {
            Photos = [Taken("usual.jpg", 1, "2027:03:16 10:00:00"), Taken("dark.jpg", 0.4, "2027:03:16 10:00:00")], Archive = null,
        };
        PhotoResponse told = Read(again).Value.Reading.Photos[0].Response!;
        KeepSeries("2027:03:14 10:00:00");

        PhotoResponse toldAgain = Read(again with { Archive = Place }).Value.Reading.Photos[0].Response!;

        Assert.Equal(PhotoResponse.Series, toldAgain.Source);
        foreach ((double first, double second) in told.Terms.Zip(toldAgain.Terms)) Assert.Equal(first, second, 0.01);
    }

    private void KeepSeries(string taken) => Assert.False(
        Read(Request with { Photos = [Taken("series-usual.jpg", 1, taken), Taken("series-dark.jpg", 0.4, taken)] }).IsRefused);

    private static Outcome<ReadResult> Read(ReadRequest request) => ReadOne.Run(request with { IsAlone = true });

    private string Taken(string name, double factor, string taken)
    {
        string path = Path.Combine(_scratch, name);
        File.WriteAllBytes(path, Vision.Tests.PhotoFiles.WithExposure(
            ExposedPhoto.Of(Data("birch-engrave.jpg"), factor), 0.01 * factor, taken: taken));
        return path;
    }

    private PhotoSitting Sit()
    {
        using (CardArchive archive = CardArchive.Open(Place.Folder, TimeProvider.System).Value)
            Assert.False(archive.KeepCard(File.ReadAllBytes(Data("birch-engrave.plan.json"))).IsRefused);
        return new(Place);
    }

    private static Outcome<ReadResult> Read(PhotoSitting sitting, string photo) =>
        sitting.Read(sitting.See(photo, Path.GetFileName(photo)).Single());

    private static Reading ReadNext(PhotoSitting sitting, string photo) => Read(sitting, photo).Value.Reading;

    private static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    private string Exposed(string name, double factor)
    {
        string path = Path.Combine(_scratch, name);
        File.WriteAllBytes(path, ExposedPhoto.Of(Data("birch-engrave.jpg"), factor));
        return path;
    }
}
