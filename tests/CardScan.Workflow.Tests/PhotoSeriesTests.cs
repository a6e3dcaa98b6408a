using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using OpenCvSharp;

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
        using (CardArchive archive = CardArchive.Open(Place.Folder, TimeProvider.System).Value)
            Assert.False(archive.KeepCard(File.ReadAllBytes(Data("birch-engrave.plan.json"))).IsRefused);
        using PhotoSitting sitting = new(Place);

        Reading first = Next(Exposed("usual.jpg", 1)), second = Next(Exposed("dark.jpg", 0.4));

        Assert.Null(first.Photos[0].Response);
        Assert.Equal(2, second.Photos.Count(photo => photo.Response is not null));

        Reading Next(string photo) => sitting.Read(sitting.See(photo, Path.GetFileName(photo)).Single()).Value.Reading;
    }

    private static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    /// <summary>The birch card as the same phone would have taken it with more or less light, without a word of its exposure.</summary>
    private string Exposed(string name, double factor)
    {
        using Mat photo = Cv2.ImRead(Data("birch-engrave.jpg")), codes = new(1, 256, MatType.CV_8UC1), exposed = new();
        for (int code = 0; code < 256; code++)
            codes.Set(0, code, SrgbCurve.Byte(Math.Min(1, factor * SrgbCurve.Linear(code / 255.0))));
        Cv2.LUT(photo, codes, exposed);
        string path = Path.Combine(_scratch, name);
        Assert.True(Cv2.ImWrite(path, exposed, new ImageEncodingParam(ImwriteFlags.JpegQuality, 92)));
        return path;
    }
}
