using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>A pen that somebody left on the card.</summary>
public sealed class ForeignColourTests
{
    private static readonly Scene Card = new() { Bare = (0.62, 0.47, 0.30), Grain = 0.05, Noise = 0.005, BlurPx = 1 };

    public static TheoryData<double, double, double> Colours => new() { { 0.6, 0.03, 0.03 }, { 0.8, 0.6, 0.02 }, { 0.02, 0.06, 0.4 } };

    [Theory]
    [MemberData(nameof(Colours))]
    public void Cells_under_a_thing_are_left_out_and_no_other(double red, double green, double blue)
    {
        // Column 1 has its cells from 40 to 48 mm.
        LinearPicture picture = SceneRenderer.Render(Card);
        Paint(picture, 44, 15, 6, 83, (red, green, blue));

        ValueList<CellReading> clean = CellsOf(SceneRenderer.Render(Card)), touched = CellsOf(picture);

        Assert.DoesNotContain(clean, cell => cell.Flags.Contains(CellFlag.Covered));
        Assert.All(touched, cell => Assert.Equal(cell.Column == 1, cell.Flags.Contains(CellFlag.Covered)));
        Assert.All(clean.Zip(touched).Where(cell => cell.First.Column != 1), cell =>
            Assert.InRange(Math.Abs(cell.Second.Darkness!.Value - cell.First.Darkness!.Value), 0, 2 * cell.Second.Darkness.StandardError));
    }

    /// <summary>Tempered steel: straw, purple, blue and grey one after the other, on no curve of colour against darkness.</summary>
    [Fact]
    public void Marks_of_many_colours_are_no_things_that_lie_on_the_card()
    {
        (double, double, double)[] hues = [(0.5, 0.36, 0.1), (0.4, 0.2, 0.25), (0.12, 0.15, 0.4), (0.2, 0.3, 0.35), (0.35, 0.33, 0.3)];
        LinearPicture picture = SceneRenderer.Render(Card with { Bare = (0.55, 0.55, 0.55) });
        foreach (Cell cell in Card.Plan.Plan.Cells)
            Paint(picture, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm, hues[cell.Column]);

        Assert.DoesNotContain(CellsOf(picture), cell => cell.Flags.Contains(CellFlag.Covered));
    }

    private static void Paint(
        LinearPicture picture, double left, double top, double width, double height, (double R, double G, double B) colour)
    {
        for (double x = left; x < left + width; x += 0.02)
        {
            for (double y = top; y < top + height; y += 0.02)
            {
                (double px, double py) = Card.Camera.ToPhoto(x, y);
                picture.Set((int)px, (int)py, colour);
            }
        }
    }

    private static ValueList<CellReading> CellsOf(LinearPicture picture)
    {
        using OpenPhoto photo = CardReader.Open(new("photo", picture.ToJpeg())).Value;
        Outcome<CardView> view = photo.Measure(Card.Plan.Plan, new());
        Assert.False(view.IsRefused, view.Refusal?.ToString());
        return view.Value.Cells;
    }
}
