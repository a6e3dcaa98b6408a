using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Two cards photographed apart, by phones whose tone curves differ, each with the same grey strip.</summary>
public sealed class GreyStripTests : IDisposable
{
    /// <summary>The second card needs every dose so many times as high (docs/method/comparing.md).</summary>
    private const double TrueRatio = 1.12;

    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    private ArchivePlace Place => new(Path.Combine(_scratch, "archive"), TimeProvider.System);

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    [Fact]
    public void A_strip_gets_a_number_of_its_own_and_its_page_is_written_beside_its_plan()
    {
        Keep("birch-engrave.plan.json");
        StripRequest request = new() { OutputFolder = Path.Combine(_scratch, CardRequest.FolderOfCard), Archive = Place };

        MadeStrip first = MakeStrip.Run(request).Value, second = MakeStrip.Run(request).Value;

        Assert.NotEqual(first.Plan.Number, second.Plan.Number);
        Assert.Equal(["plan.json", "strip-a4.pdf", "strip-letter.pdf"], first.Files.Select(Path.GetFileName));
        Assert.All(first.Files, file => Assert.True(new FileInfo(file).Length > 0));
        Assert.False(first.Kept!.IsRefused);
        Outcome<MadeStrip> again = MakeStrip.Run(request with { Number = 30, OutputFolder = Path.GetDirectoryName(first.Files[0])! });
        Assert.Equal(Codes.PlanExists, again.Refusal!.Code);
    }

    [PopplerFact]
    public void Two_photos_of_unlike_tone_are_compared_by_the_strip_in_both()
    {
        Keep("birch-engrave.plan.json", "second/plan.json");
        Plan strip = MakeStrip.Run(new() { OutputFolder = Path.Combine(_scratch, "strip"), Archive = Place }).Value.Plan;
        string first = Photo("first.jpg", strip, "birch-engrave.jpg", 0.85, Flat),
            later = Photo("later.jpg", strip, "second/birch-second.jpg", 0.8, Steep);

        RelativeDose plain = Compared(Read(first, isPlain: true), Read(later, isPlain: true)).RelativeDose!;
        Reading firstRead = Read(first), laterRead = Read(later), firstAgain = Read(first);
        ComparedPair pair = Compared(firstRead, laterRead);

        Assert.Null(firstRead.Photos[0].Response);
        Assert.Equal(firstRead.Cells, firstAgain.Cells);
        Assert.True(laterRead.Photos[0].Response is not null, string.Join(" ", laterRead.Photos[0].Warnings));
        Assert.Equal(firstRead.Photos[0].Sha256, laterRead.Photos[0].Response!.Scale!.PhotoSha256);
        Assert.Contains(pair.Notes, note => note.Code == Codes.TonesOneScale);
        Assert.True(Math.Abs(Math.Log(plain.Value / TrueRatio)) > 0.1, $"{plain.Value} without the strip");
        Assert.Equal(TrueRatio, pair.RelativeDose!.Value, 0.03);
        Assert.InRange(TrueRatio, pair.RelativeDose.Low, pair.RelativeDose.High);
        Assert.InRange(Math.Log(pair.RelativeDose.High / pair.RelativeDose.Low) / 2, 0.02, 0.1);
    }

    /// <summary>A curve that lifts the shadows.</summary>
    private static double Flat(double light) => Math.Pow(SrgbCurve.Code(light), 0.85);

    /// <summary>A curve that presses the shadows and lifts the lights.</summary>
    private static double Steep(double light)
    {
        double code = SrgbCurve.Code(light);
        return 0.5 * code + 0.5 * code * code * (3 - 2 * code);
    }

    private Reading Read(string photo, bool isPlain = false)
    {
        ReadCardsResult read =
            ReadCards.Run(new() { Photos = [photo], Archive = Place, IsAlone = true, HasPlainTones = isPlain }).Value;
        Assert.Empty(read.Refused);
        return read.Cards.Select(card => card.Reading).Single(reading => !reading.Plan.IsPrinted);
    }

    private static ComparedPair Compared(Reading first, Reading later) => CompareCards.Run(CompareRequest.Of(
        ReadingSource.Load([], null, [first, later]).Value, [], margin: null)).Value.Comparison.Pairs[0];

    private string Photo(string name, Plan strip, string card, double exposure, Func<double, double> curve)
    {
        string path = Path.Combine(_scratch, name);
        File.WriteAllBytes(path, PhotoWithStrip.Of(strip, Data(card), exposure, curve));
        return path;
    }

    private void Keep(params string[] plans)
    {
        using CardArchive archive = CardArchive.Open(Place.Folder, TimeProvider.System).Value;
        foreach (string plan in plans) Assert.False(archive.KeepCard(File.ReadAllBytes(Data(plan))).IsRefused);
    }

    private static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);
}
