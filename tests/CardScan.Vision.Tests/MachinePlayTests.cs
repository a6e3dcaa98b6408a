using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace CardScan.Vision.Tests;

/// <summary>Cards burned stroke by stroke from their machine file, by machines with and without play.</summary>
public sealed class MachinePlayTests
{
    private const double PxPerMm = 12;

    [Theory]
    [InlineData(0.1, false, 1)]
    [InlineData(0.2, true, 2)]
    public void Play_along_y_is_told_with_its_size_and_not_as_a_bent_card(double playMm, bool followsSpeed, int number)
    {
        Reading reading = Read(followsSpeed, number, PxPerMm, bowMm: 0, playYMm: playMm);

        Warning told = Assert.Single(reading.Photos[0].Warnings, warning => warning.Code == "machine-play");
        Assert.StartsWith("Check the drive along y: cells that the head comes to from below begin ", told.Message);
        (double value, double error) = SizeOf(told);
        Assert.InRange(value, playMm - error - 0.01, playMm + error + 0.01);
        Assert.InRange(error, 0.001, 0.05);
        Assert.DoesNotContain(reading.Photos[0].Warnings, warning => warning.Message.Contains("card is bent", StringComparison.Ordinal));
    }

    [Fact]
    public void Play_is_told_on_a_bowed_card_too()
    {
        Reading reading = Read(followsSpeed: true, 4, PxPerMm, bowMm: 1.5, playYMm: 0.2);

        (double value, double error) = SizeOf(Assert.Single(reading.Photos[0].Warnings, warning => warning.Code == "machine-play"));
        Assert.InRange(value, 0.2 - error - 0.01, 0.2 + error + 0.01);
    }

    [Fact]
    public void Lines_that_stand_apart_along_x_are_told_where_the_photo_shows_them()
    {
        // With a run-up every line is shifted as a whole: the edges are combs, whose teeth of 0.1 mm are 2.5 px wide here.
        Reading reading = Read(followsSpeed: false, 6, pxPerMm: 25, bowMm: 0, playXMm: 0.2);

        Warning told = Assert.Single(reading.Photos[0].Warnings, warning => warning.Code == "machine-play");
        Assert.StartsWith("Check the drive along x: lines burned to the right and to the left stand at least ", told.Message);
        (double value, double error) = SizeOf(told);
        // Sampling and JPEG take some of the teeth besides the lens: what is told is a lower bound.
        Assert.InRange(value, 0.12, 0.2 + error);
    }

    [Theory]
    [InlineData(true, 0, 3)]
    [InlineData(false, 1.5, 8)]
    [InlineData(false, -1, 11)]
    public void A_tight_machine_has_no_play_on_flat_and_on_bowed_cards(bool followsSpeed, double bowMm, int number) =>
        Assert.DoesNotContain(Read(followsSpeed, number, PxPerMm, bowMm).Photos[0].Warnings, warning => warning.Code == "machine-play");

    [Fact]
    public void Play_moves_no_darkness()
    {
        Reading tight = Read(followsSpeed: true, 2, PxPerMm, bowMm: 0);
        Reading loose = Read(followsSpeed: true, 2, PxPerMm, bowMm: 0, playYMm: 0.2);

        Assert.All(tight.Cells.Zip(loose.Cells),
            pair => Assert.Equal(pair.First.Darkness!.Value, pair.Second.Darkness!.Value, 2 * pair.First.Darkness.StandardError));
    }

    /// <summary>Play and its stated error, mm.</summary>
    private static (double Value, double Error) SizeOf(Warning told)
    {
        System.Text.RegularExpressions.Match size =
            System.Text.RegularExpressions.Regex.Match(told.Message, @"([\d.]+) ± ([\d.]+) mm");
        Assert.True(size.Success, told.Message);
        return (Number(1), Number(2));

        double Number(int group) => double.Parse(size.Groups[group].Value, System.Globalization.CultureInfo.InvariantCulture);
    }

    private static Reading Read(bool followsSpeed, int number, double pxPerMm, double bowMm, double playXMm = 0, double playYMm = 0)
    {
        (PlanFile plan, string machineFile) = PlayPhotos.Card(followsSpeed, number);
        Scene scene = PlayPhotos.SceneOf(plan, pxPerMm, seed: number, bowMm);
        using SixLabors.ImageSharp.Image image = SixLabors.ImageSharp.Image.Load(
            BurnedCard.Of(plan.Plan, machineFile, playXMm, playYMm).Photo(scene).ToPng());
        image.Metadata.ExifProfile = new ExifProfile();
        image.Metadata.ExifProfile.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)scene.Camera.FocalLength35Mm);
        using MemoryStream file = new();
        image.Save(file, new JpegEncoder { Quality = 90 });
        Outcome<SeenCard> outcome = Photographed.Read(file.ToArray(), plan);
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return outcome.Value.Reading;
    }
}
