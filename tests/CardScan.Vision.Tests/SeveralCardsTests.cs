using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Several cards in one photo: each is measured as if it were alone.</summary>
public sealed class SeveralCardsTests
{
    private static readonly Scene Large = SceneOf(7, new() { WidthPx = 1200, HeightPx = 900, RollDeg = 2 });

    [Fact]
    public void Each_card_is_measured_as_it_is_alone()
    {
        Scene other = SceneOf(3, Large.Camera with { RollDeg = 178 });
        LinearPicture[] pictures = [SceneRenderer.Render(Large), SceneRenderer.Render(other)];

        using OpenPhoto both = Open(pictures[0].Beside(pictures[1]));

        Assert.Equal([3, 7], both.CardNumbers);
        foreach ((Scene scene, LinearPicture picture) in new[] { Large, other }.Zip(pictures))
        {
            using OpenPhoto alone = Open(picture);
            CardView expected = Measured(alone, scene), found = Measured(both, scene);
            Assert.Empty(found.Cells.SelectMany(cell => cell.Flags));
            Assert.All(expected.Cells.Zip(found.Cells), cell =>
                Assert.InRange(cell.Second.Darkness!.Value, cell.First.Darkness!.Value - 0.01, cell.First.Darkness.Value + 0.01));
        }
    }

    [Fact]
    public void Nine_cards_are_found_and_measured()
    {
        Scene[] scenes =
            [.. Enumerable.Range(0, 9).Select(number => SceneOf(number, new() { WidthPx = 800, HeightPx = 600, RollDeg = number }))];
        LinearPicture all = new(2400, 1800);
        for (int i = 0; i < 9; i++) all = all.With(SceneRenderer.Render(scenes[i]), 800 * (i % 3), 600 * (i / 3));

        using OpenPhoto photo = Open(all);

        Assert.Equal(Enumerable.Range(0, 9), photo.CardNumbers);
        Assert.All(scenes, scene => Measured(photo, scene));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)] // one that burns lighter
    public void A_smaller_card_beside_a_large_one_is_found(bool isInverted)
    {
        Scene small = SceneOf(4, new() { WidthPx = 640, HeightPx = 480 });
        if (isInverted) small = small with { Bare = (0.06, 0.06, 0.06), MarkerRatio = 7 };
        LinearPicture empty = new(640, 900);
        LinearPicture picture = SceneRenderer.Render(Large).Beside(empty.With(SceneRenderer.Render(small), 0, 300));

        using OpenPhoto photo = Open(picture);

        Assert.Equal([4, 7], photo.CardNumbers);
        Measured(photo, Large);
        Measured(photo, small);
    }

    [Fact]
    public void A_card_under_another_one_is_refused_and_the_other_measured()
    {
        Scene above = SceneOf(4, new() { WidthPx = 500, HeightPx = 400 });
        LinearPicture picture = SceneRenderer.Render(Large).With(SceneRenderer.Render(above), 350, 250);

        using OpenPhoto photo = Open(picture);

        Refusal refusal = photo.Measure(Large.Plan.Plan, new()).Refusal!;
        Assert.Equal("cards-overlap", refusal.Code);
        Assert.Contains("Card 4", refusal.Seen, StringComparison.Ordinal);
        Assert.NotEqual("cards-overlap", photo.Measure(above.Plan.Plan, new()).Refusal?.Code);
    }

    [Fact]
    public void A_card_that_is_cut_off_is_refused_alone()
    {
        Scene cut = SceneOf(3, Large.Camera);
        LinearPicture half = new(600, 900);
        LinearPicture picture = SceneRenderer.Render(Large).Beside(half.With(SceneRenderer.Render(cut), 0, 0));

        using OpenPhoto photo = Open(picture);

        Assert.Equal([3, 7], photo.CardNumbers);
        Assert.Equal("markers-missing", photo.Measure(cut.Plan.Plan, new()).Refusal?.Code);
        Measured(photo, Large);
    }

    private static Scene SceneOf(int number, TestCamera camera) => new() { Plan = TestPlans.Engraved(number), Camera = camera };

    private static OpenPhoto Open(LinearPicture picture) => CardReader.Open(new("photo", picture.ToPng())).Value;

    private static CardView Measured(OpenPhoto photo, Scene scene)
    {
        Outcome<CardView> view = photo.Measure(scene.Plan.Plan, new());
        Assert.False(view.IsRefused, view.Refusal?.ToString());
        return view.Value;
    }
}
