using CardScan.Model;

namespace CardScan.Workflow.Tests;

public sealed class ReadCardTests : IDisposable
{
    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    [Fact]
    public void A_card_is_measured_scored_and_reported()
    {
        List<string> told = [];
        ReadResult result = ReadCard.Run(Request(), new Listener(told)).Value;
        Assert.Equal(result.Reading.Plan.Cells.Count, result.Reading.Cells.Count);
        Assert.NotEmpty(result.Reading.Recommendations);
        Assert.Equal(["report.html", "annotated.png", "reading.json", "cells.csv"], result.Files.Select(Path.GetFileName));
        Assert.Equal(["reading photo.jpg", "scoring", "writing the report"], told);
    }

    [Fact]
    public void The_file_holds_exactly_the_reading()
    {
        ReadResult result = ReadCard.Run(Request()).Value;
        Assert.Equal(result.Reading, CardJson.ReadReading(File.ReadAllBytes(Path.Combine(_scratch, "out", "reading.json"))).Value);
    }

    [Fact]
    public void Photos_are_named_without_their_folders() => Assert.Equal("photo.jpg", ReadCard.Run(Request()).Value.Reading.Photos[0].File);

    [Fact]
    public void A_report_of_fewer_photos_leaves_no_picture_of_an_earlier_one()
    {
        Assert.False(ReadCard.Run(Request()).IsRefused);
        File.WriteAllText(Path.Combine(_scratch, "out", "annotated-2.png"), "of an earlier report");
        Assert.False(ReadCard.Run(Request()).IsRefused);
        Assert.False(File.Exists(Path.Combine(_scratch, "out", "annotated-2.png")));
    }

    [Fact]
    public void Other_files_in_the_folder_of_a_report_are_left_alone()
    {
        Assert.False(ReadCard.Run(Request()).IsRefused);
        File.WriteAllText(Path.Combine(_scratch, "out", "notes.txt"), "mine");
        Assert.False(ReadCard.Run(Request()).IsRefused);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(_scratch, "out", "notes.txt")));
    }

    [Fact]
    public void A_saved_reading_scored_again_is_the_same_reading()
    {
        ReadResult result = ReadCard.Run(Request()).Value;
        Assert.Equal(result.Reading, ScoreReading.Run(Path.Combine(_scratch, "out", "reading.json"), new(), null).Value.Reading);
    }

    private ReadRequest Request()
    {
        string photo = Path.Combine(_scratch, "photo.jpg");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Data", "birch-engrave.jpg"), photo, overwrite: true);
        return new() { Photos = [photo], Plan = Path.Combine(AppContext.BaseDirectory, "Data", "birch-engrave.plan.json"), OutputFolder = Path.Combine(_scratch, "out") };
    }

    private sealed class Listener(List<string> told) : IProgress<string>
    {
        public void Report(string value) => told.Add(value);
    }
}
