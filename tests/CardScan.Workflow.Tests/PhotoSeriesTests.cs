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
