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
        ReadResult result = ReadOne.Run(Request(), new Listener(told)).Value;
        Assert.Equal(result.Reading.Plan.Cells.Count, result.Reading.Cells.Count);
        Assert.NotEmpty(result.Reading.Recommendations);
        Assert.Equal(["report.html", "annotated.png", "reading.json", "cells.csv"], result.Files.Select(Path.GetFileName));
        Assert.Equal(["Measuring photo.jpg", "Scoring", "Reporting"], told);
    }

    [Fact]
    public void The_file_holds_exactly_the_reading()
    {
        ReadResult result = ReadOne.Run(Request()).Value;
        Assert.Equal(result.Reading, CardJson.ReadReading(File.ReadAllBytes(Path.Combine(_scratch, "out", "reading.json"))).Value);
    }

    [Fact]
    public void Photos_are_named_without_their_folders() => Assert.Equal("photo.jpg", ReadOne.Run(Request()).Value.Reading.Photos[0].File);

    [Fact]
    public void A_report_of_fewer_photos_leaves_no_picture_of_an_earlier_one()
    {
        Assert.False(ReadOne.Run(Request()).IsRefused);
        File.WriteAllText(Path.Combine(_scratch, "out", "annotated-2.png"), "of an earlier report");
        Assert.False(ReadOne.Run(Request()).IsRefused);
        Assert.False(File.Exists(Path.Combine(_scratch, "out", "annotated-2.png")));
    }

    [Fact]
    public void Other_files_in_the_folder_of_a_report_are_left_alone()
    {
        Assert.False(ReadOne.Run(Request()).IsRefused);
        File.WriteAllText(Path.Combine(_scratch, "out", "notes.txt"), "mine");
        Assert.False(ReadOne.Run(Request()).IsRefused);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(_scratch, "out", "notes.txt")));
    }

    [Fact]
    public void A_saved_reading_scored_again_is_the_same_reading()
    {
        ReadResult result = ReadOne.Run(Request()).Value;
        Assert.Equal(result.Reading, ScoreReading.Run(Again()).Value.Reading);
    }

    [Fact]
    public void A_reading_scored_again_into_its_own_folder_leaves_the_pictures_there_that_mark_its_settings()
    {
        Assert.False(ReadOne.Run(Request()).IsRefused);
        byte[] picture = File.ReadAllBytes(Path.Combine(_scratch, "out", "annotated.png"));
        Assert.False(ScoreReading.Run(Again() with { OutputFolder = Path.Combine(_scratch, "out") }).IsRefused);
        Assert.Equal(picture, File.ReadAllBytes(Path.Combine(_scratch, "out", "annotated.png")));
    }

    [Fact]
    public void A_picture_that_marks_other_settings_than_the_reading_beside_it_goes()
    {
        Assert.False(ReadOne.Run(Request()).IsRefused);
        Assert.False(ScoreReading.Run(Again() with
        {
            Scoring = new() { FullMarkShare = 0.8 },
            OutputFolder = Path.Combine(_scratch, "out")
        }).IsRefused);
        Assert.False(File.Exists(Path.Combine(_scratch, "out", "annotated.png")));
    }

    [Theory]
    [InlineData("number")]
    [InlineData("fingerprint")]
    [InlineData("no fingerprint, another plan")]
    public void The_report_of_another_card_is_never_replaced(string difference)
    {
        ReadResult result = ReadOne.Run(Request()).Value;
        Reading other = difference switch
        {
            "number" => OfCard18(result.Reading),
            "fingerprint" => result.Reading with { PlanSha256 = new string('0', 64) },
            _ => result.Reading with { PlanSha256 = null, Plan = result.Reading.Plan with { Title = "another" } },
        };
        string path = Path.Combine(_scratch, "out", "reading.json");
        File.WriteAllText(path, CardJson.Write(other));
        byte[] page = File.ReadAllBytes(Path.Combine(_scratch, "out", "report.html"));

        Refusal refusal = ReadOne.Run(Request()).Refusal!;
        Assert.Equal("report-exists", refusal.Code);
        Assert.Equal(RefusalKind.WrongInput, refusal.Kind);
        Assert.Equal(CardJson.Write(other), File.ReadAllText(path));
        Assert.Equal(page, File.ReadAllBytes(Path.Combine(_scratch, "out", "report.html")));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_report_stands_beside_its_own_plan_and_never_beside_another(bool isOwn)
    {
        Directory.CreateDirectory(Path.Combine(_scratch, "out"));
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(Request().Plans[0])).Value.Plan;
        File.WriteAllText(Path.Combine(_scratch, "out", "plan.json"), CardJson.Write(isOwn ? plan : plan with { Title = "another" }));

        Assert.Equal(isOwn ? null : "report-exists", ReadOne.Run(Request()).Refusal?.Code);
        Assert.Equal(isOwn, File.Exists(Path.Combine(_scratch, "out", "report.html")));
    }

    [Fact]
    public void A_folder_of_reports_names_those_in_it()
    {
        Assert.False(ReadOne.Run(Request()).IsRefused);
        Refusal refusal = ScoreReading.Run(new() { Readings = [_scratch] }).Refusal!;
        Assert.Equal("file-missing", refusal.Code);
        Assert.Contains(Path.Combine(_scratch, "out"), refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_picture_of_somebody_else_is_never_replaced()
    {
        Directory.CreateDirectory(Path.Combine(_scratch, "out"));
        File.WriteAllText(Path.Combine(_scratch, "out", "annotated-2.png"), "mine");
        Assert.Equal("out-foreign", ReadOne.Run(Request()).Refusal!.Code);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(_scratch, "out", "annotated-2.png")));
    }

    [Theory]
    [InlineData("cells.csv")]
    [InlineData("annotated-2.png")]
    public void A_folder_in_the_place_of_a_file_is_told_before_anything_is_measured(string name)
    {
        Assert.False(ReadOne.Run(Request()).IsRefused);
        File.Delete(Path.Combine(_scratch, "out", name));
        Directory.CreateDirectory(Path.Combine(_scratch, "out", name));
        List<string> told = [];
        Refusal refusal = ReadOne.Run(Request(), new Listener(told)).Refusal!;
        Assert.Equal("out-foreign", refusal.Code);
        Assert.Contains($"{name} is a folder", refusal.Seen, StringComparison.Ordinal);
        Assert.Empty(told);
    }

    private static Reading OfCard18(Reading reading)
    {
        Fiducials fiducials = reading.Plan.Fiducials with
        {
            Markers = reading.Plan.Fiducials.Markers.Select(marker => marker with { Id = marker.Id + 4 }).ToValueList()
        };
        return reading with { Plan = reading.Plan with { Number = 18, Fiducials = fiducials } };
    }

    private ScoreRequest Again() => new() { Readings = [Path.Combine(_scratch, "out", "reading.json")] };

    private ReadRequest Request()
    {
        string photo = Path.Combine(_scratch, "photo.jpg");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Data", "birch-engrave.jpg"), photo, overwrite: true);
        return new()
        {
            Photos = [photo],
            Plans = [Path.Combine(AppContext.BaseDirectory, "Data", "birch-engrave.plan.json")],
            OutputFolder = Path.Combine(_scratch, "out")
        };
    }

    private sealed class Listener(List<string> told) : IProgress<ReadProgress>
    {
        public void Report(ReadProgress value) => told.Add($"{value.Step} {value.Name}".TrimEnd());
    }
}
