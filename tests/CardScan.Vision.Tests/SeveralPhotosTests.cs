using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Several photos of one card: what they say together, and when they contradict each other.</summary>
public sealed class SeveralPhotosTests
{
    private static readonly Scene Card = new() { Grain = 0.03, Noise = 0.004 };

    [Fact]
    public void A_photo_with_a_bent_tone_curve_beside_an_honest_one_is_told()
    {
        LinearPicture picture = SceneRenderer.Render(Card);

        Reading both = Read(picture.ToPng(), picture.Toned(SShape).ToPng());

        Assert.Contains(both.Photos[1].Warnings, warning => warning.Code == "photos-disagree");
        Assert.DoesNotContain(both.Photos[0].Warnings, warning => warning.Code == "photos-disagree");
    }

    [Fact]
    public void Two_honest_photos_from_different_places_agree()
    {
        byte[] second = SceneRenderer.Render(Card with { Camera = new() { TiltDeg = 8, RollDeg = 5 }, Exposure = 0.8 }).ToPng();

        Reading both = Read(SceneRenderer.Render(Card).ToPng(), second);

        Assert.All(both.Photos, photo => Assert.DoesNotContain(photo.Warnings, warning => warning.Code == "photos-disagree"));
    }

    [Fact]
    public void The_combined_error_grows_with_the_disagreement()
    {
        LinearPicture picture = SceneRenderer.Render(Card);
        byte[] honest = picture.ToPng();

        Reading agreeing = Read(honest, picture.Gained(0.9, 0.9, 0.9).ToPng());
        Reading disagreeing = Read(honest, picture.Toned(SShape).ToPng());

        double Error(Reading reading) => reading.Cells.Average(cell => cell.Darkness!.StandardError);
        Assert.True(Error(disagreeing) > 1.5 * Error(agreeing), $"{Error(disagreeing):F4} beside {Error(agreeing):F4}");
    }

    [Fact]
    public void A_view_without_a_flag_is_preferred_whichever_photo_comes_first()
    {
        // Cell (1, 2) lies under a reflection in one of the two photos.
        byte[] plain = SceneRenderer.Render(Card).ToPng();
        byte[] glaring = SceneRenderer.Render(Card with { Glare = new(60, 41, SpreadMm: 7, Strength: 0.35) }).ToPng();
        CellReading alone = UnderGlare(Read(plain));

        foreach (Reading both in new[] { Read(plain, glaring), Read(glaring, plain) })
        {
            Assert.Equal(alone.Darkness, UnderGlare(both).Darkness);
            Assert.DoesNotContain(CellFlag.Glare, UnderGlare(both).Flags);
        }

        static CellReading UnderGlare(Reading reading) => reading.Cells.Single(cell => cell is { Row: 1, Column: 2 });
    }

    /// <summary>Darker shadows and lighter highlights, as phones draw them: a smooth step blended with the true curve.</summary>
    private static double SShape(double linear)
    {
        double code = Math.Pow(Math.Clamp(linear, 0, 1), 1 / 2.2);
        return Math.Pow(0.4 * code + 0.6 * code * code * (3 - 2 * code), 2.2);
    }

    private static Reading Read(params byte[][] photos)
    {
        Outcome<SeenCard> outcome =
            OneCard.Read([.. photos.Select((photo, i) => new PhotoFile($"photo {i + 1}", photo))], Card.Plan, new VisionOptions());
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return outcome.Value.Reading;
    }
}
