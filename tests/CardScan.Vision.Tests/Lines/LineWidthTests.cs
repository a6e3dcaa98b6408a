using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.Lines;

/// <summary>Widths of single lines on rendered photos of 12 px/mm, whose truth is known.</summary>
public sealed class LineWidthTests
{
    /// <summary>A phone of 12 megapixels that fills its frame with the card.</summary>
    private static readonly TestCamera Close = new() { WidthPx = 2400, HeightPx = 1800 };

    [Theory]
    [InlineData(0.7, 0, 0, 0.004)]
    [InlineData(1.5, 0, 0, 0.004)]
    [InlineData(1.0, 20, 12, 0.004)]
    [InlineData(1.0, 0, 3, 0.02)]
    public void A_width_is_right_within_its_stated_error(double blurPx, double tiltDeg, double rollDeg, double noise)
    {
        Photographed photo = Photographed.Of(Scene(blurPx, tiltDeg, rollDeg, noise), jpegQuality: 92);

        (double True, Measured Found)[] widths = [.. Widths(photo)];
        Assert.Equal(widths.Count(width => width.True >= 0.3),
            photo.Scene.Plan.Plan.Cells.Sum(cell => new[] { 0, 3 }.Count(line => TrueWidth(cell, cell.Lines![line]) >= 0.3)));
        Assert.All(widths,
            width => Assert.Equal(width.True, width.Found.Value, Math.Max(0.015 + 0.06 * width.True, 2.5 * width.Found.StandardError)));
        Assert.InRange(
            widths.Count(width => Math.Abs(width.Found.Value - width.True) <= 1.96 * width.Found.StandardError + 0.003)
                / (double)widths.Length,
            0.9, 1);
    }

    [Fact]
    public void Motion_along_one_axis_does_not_widen_the_lines_across_it()
    {
        // Turned a little, as every photo is: along the rows of pixels the edges would not tell the blur across them.
        Photographed photo =
            Photographed.Of(Scene(0.7, 0, rollDeg: 2, 0.004) with { MotionPx = 1.6, Light = (_, _) => 1 }, jpegQuality: 92);

        Assert.All(Widths(photo).Where(width => width.True >= 0.2), width => Assert.Equal(width.True, width.Found.Value, 0.02));
    }

    [Fact]
    public void Lines_that_the_blur_swallows_are_said_and_not_guessed()
    {
        Photographed photo = Photographed.Of(Scene(2.5, 0, 0, 0.006) with { LineWidthMm = (_, _) => 0.06 }, jpegQuality: 92);

        Assert.All(photo.Reading.Cells, cell => Assert.Null(cell.LineWidths));
        Assert.All(photo.Reading.Cells, cell => Assert.Contains(CellFlag.LinesUnresolved, cell.Flags));
    }

    [Fact]
    public void Lines_that_marked_nothing_are_said()
    {
        Photographed photo =
            Photographed.Of(Scene(0.7, 0, 0, 0.004) with { LineWidthMm = (cell, _) => cell.Row == 0 ? 0 : 0.25 }, jpegQuality: 92);

        Assert.All(photo.Reading.Cells, cell => Assert.Equal(cell.Row == 0, cell.Flags.Contains(CellFlag.LinesUnseen)));
        Assert.All(photo.Reading.Cells, cell => Assert.Equal(cell.Row == 0, cell.LineWidths is null));
    }

    [Fact]
    public void Lines_lighter_than_the_material_are_measured_alike()
    {
        Photographed photo = Photographed.Of(
            Scene(0.7, 0, 0, 0.004) with { Bare = (0.1, 0.1, 0.1), MarkerRatio = 5, Darkness = _ => -0.6 }, jpegQuality: 92);

        Assert.All(Widths(photo).Where(width => width.True >= 0.25), width => Assert.Equal(width.True, width.Found.Value, 0.02));
    }

    [Fact]
    public void A_ladder_has_line_energies_and_no_darkness()
    {
        CellReading first = Photographed.Of(Scene(0.7, 0, 0, 0.004)).Reading.Cells[0];

        // 30 % of 10 W at 2000 mm/min.
        Assert.Equal(0.09, first.Dose!.Value, 1e-9);
        Assert.Equal(Dose.JoulesPerMm, first.Dose.Unit);
        Assert.Null(first.Darkness);
    }

    [Fact]
    public void A_ladder_whose_lines_are_not_where_the_plan_has_them_is_refused()
    {
        Scene scene = Scene(0.7, 0, 0, 0.004);
        PlanFile shifted = scene.Plan with { Plan = scene.Plan.Plan with { Cells = scene.Plan.Plan.Cells.Select(Shifted).ToValueList() } };

        Assert.Equal("cells-misplaced", Photographed.RefusalOf(SceneRenderer.Render(scene).ToJpeg(92), shifted).Code);

        static Cell Shifted(Cell cell) => cell with
        {
            XMm = cell.XMm + 1.5,
            YMm = cell.YMm + 1.5,
            Lines = cell.Lines!.Select(line => new BurnedLine
            {
                FromXMm = line.FromXMm + 1.5,
                FromYMm = line.FromYMm + 1.5,
                ToXMm = line.ToXMm + 1.5,
                ToYMm = line.ToYMm + 1.5
            }).ToValueList(),
        };
    }

    [Fact]
    public void Two_photos_of_a_ladder_agree_and_are_one()
    {
        Scene scene = Scene(0.7, 0, 0, 0.004), other = Scene(1.0, 10, 5, 0.004);
        Outcome<SeenCard> seen = OneCard.Read(
            [new("a", SceneRenderer.Render(scene).ToJpeg(92)), new("b", SceneRenderer.Render(other).ToJpeg(92))], scene.Plan,
            new VisionOptions());

        Assert.Empty(seen.Value.Reading.Photos.SelectMany(photo => photo.Warnings));
        Assert.All(Widths(new(scene, seen.Value.Reading)).Where(width => width.True >= 0.2),
            width => Assert.Equal(width.True, width.Found.Value, 0.02));
    }

    private static Scene Scene(double blurPx, double tiltDeg, double rollDeg, double noise) => new()
    {
        Plan = LadderPlans.Ladder(),
        Camera = Close with { TiltDeg = tiltDeg, RollDeg = rollDeg },
        Darkness = _ => 0.5,
        LineWidthMm = TrueWidth,
        BlurPx = blurPx,
        Noise = noise,
        Light = (x, y) => 1 + 0.0002 * (x - y),
    };

    /// <summary>From 0.12 to 0.55 mm over the card; lines along y are a quarter wider.</summary>
    private static double TrueWidth(Cell cell, BurnedLine line) =>
        (0.12 + 0.06 * cell.Column + 0.025 * cell.Row) * (line.FromXMm == line.ToXMm ? 1.25 : 1);

    private static IEnumerable<(double True, Measured Found)> Widths(Photographed photo)
    {
        foreach ((Cell cell, CellReading reading) in photo.Scene.Plan.Plan.Cells.Zip(photo.Reading.Cells))
        {
            if (reading.LineWidths?.AcrossYMm is { } y) yield return (photo.Scene.LineWidthMm(cell, cell.Lines![0]), y);
            if (reading.LineWidths?.AcrossXMm is { } x) yield return (photo.Scene.LineWidthMm(cell, cell.Lines![3]), x);
        }
    }
}
