using CardScan.Model;
using CardScan.Reporting;
using CardScan.Scoring;
using CardScan.Vision;
using OpenCvSharp;

namespace CardScan.Cli.Tests;

/// <summary>Pictures that CardScan drew, given to it as photos.</summary>
public sealed class OwnPicturesTests : IDisposable
{
    private static readonly Lazy<(Reading Reading, CardPicture Picture)> Birch = new(() =>
    {
        SeenCard seen = OneCard.Read([new PhotoFile("photo.jpg", File.ReadAllBytes(Cli.Photo))],
            CardJson.ReadPlan(File.ReadAllBytes(Cli.Plan)).Value, new() { WithPictures = true }).Value;
        return (CardScorer.Score(seen.Reading, ScoringOptions.Default), seen.Pictures[0]);
    });

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void A_card_that_was_planned_and_never_burned_is_not_read()
    {
        Assert.Equal(0, Kept([.. Planned, "--out", _scratch["card-3"]]).Code);

        CliRun run = Kept("read", _scratch["card-3"]);

        Assert.Equal(2, run.Code);
        Assert.Contains("only pictures that CardScan drew itself: preview.png.", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal("", run.Output);
        Assert.Contains("No reading recommends a setting", Kept("settings").Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_preview_that_is_named_is_refused_and_nothing_is_kept()
    {
        Assert.Equal(0, Kept([.. Planned, "--out", _scratch["card-3"]]).Code);

        CliRun run = Kept("read", _scratch["card-3/preview.png"]);

        Assert.Equal(2, run.Code);
        Assert.Contains("preview.png: CardScan drew this picture itself", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(["card.svg", "plan.json", "preview.png", "settings.csv", "settings.html"],
            Directory.GetFiles(_scratch["card-3"]).Select(path => Path.GetFileName(path)).Order());
        Assert.Contains("No reading recommends a setting", Kept("settings").Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_photo_in_the_folder_is_read_and_what_lies_beside_it_passed_over_with_a_word()
    {
        Directory.CreateDirectory(_scratch["card-17"]);
        File.Copy(Cli.Photo, _scratch["card-17/photo.jpg"]);
        _scratch.Write("card-17/annotated.png", CardReport.AnnotatedPng(Birch.Value.Reading, Birch.Value.Picture));

        CliRun run = Cli.Run("read", _scratch["card-17"], "--plan", Cli.Plan, "--json");

        Assert.Equal(0, run.Code);
        Assert.Equal("Skipped pictures that CardScan drew itself: annotated.png.", run.OnlyLine());
        Assert.Equal(
            ["photo.jpg"], CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(run.Output)).Value.Photos.Select(photo => photo.File));
    }

    [Theory]
    [InlineData("preview", 1, null)]
    [InlineData("preview", 0.5, 60)]
    [InlineData("preview", 2, 60)]
    [InlineData("annotated", 1, null)]
    [InlineData("annotated", 0.5, 60)]
    [InlineData("annotated", 2, 60)]
    public void A_picture_that_was_drawn_is_known_after_it_was_scaled_and_saved_anew(string kind, double scale, int? jpegQuality)
    {
        string plan = Cli.Plan;
        byte[] png;
        if (kind == "preview")
        {
            Assert.Equal(0, Cli.Run([.. Planned, "--out", _scratch["card"]]).Code);
            (plan, png) = (_scratch["card/plan.json"], File.ReadAllBytes(_scratch["card/preview.png"]));
        }
        else png = CardReport.AnnotatedPng(Birch.Value.Reading, Birch.Value.Picture);

        string saved = _scratch.Write(jpegQuality is null ? "saved.png" : "saved.jpg", SavedAnew(png, scale, jpegQuality));
        CliRun run = Cli.Run("read", saved, "--plan", plan);

        Assert.Equal(2, run.Code);
        Assert.Contains(kind == "preview" ? "This is a drawing" : "This is an annotated picture", run.OnlyLine(), StringComparison.Ordinal);
    }

    private static string[] Planned => ["plan", "--material", "birch plywood", "--thickness", "3", "--watts", "10", "--power", "20:95:6",
        "--speed", "1000,1500,2200,3300,5000", "--number", "3"];

    private CliRun Kept(params string[] args) => Cli.RunWith(_scratch["archive"], args);

    /// <summary>As a program saves it that keeps no texts.</summary>
    private static byte[] SavedAnew(byte[] png, double scale, int? jpegQuality)
    {
        using Mat drawn = Cv2.ImDecode(png, ImreadModes.Color), scaled = new();
        Cv2.Resize(drawn, scaled, new Size(), scale, scale, scale < 1 ? InterpolationFlags.Area : InterpolationFlags.Cubic);
        byte[] saved;
        if (jpegQuality is int quality) Cv2.ImEncode(".jpg", scaled, out saved, new ImageEncodingParam(ImwriteFlags.JpegQuality, quality));
        else Cv2.ImEncode(".png", scaled, out saved);
        return saved;
    }
}
