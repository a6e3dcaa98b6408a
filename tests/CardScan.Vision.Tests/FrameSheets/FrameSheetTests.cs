using CardScan.Model;
using Xunit.Abstractions;

namespace CardScan.Vision.Tests.FrameSheets;

public sealed class FrameSheetTests(ITestOutputHelper output)
{
    [Fact]
    public void A_piece_that_lies_as_planned_is_read_as_it_is()
    {
        FramePhoto photo = FramePhoto.Of(new());
        output.WriteLine(
            $"{photo.Frame} place {photo.PlaceErrorMm:F3} darkness {photo.DarknessRms:F3} {string.Join(' ', photo.WarningCodes)}");
        Assert.InRange(photo.PlaceErrorMm, 0, 0.05);
        Assert.InRange(photo.DarknessRms, 0, 0.015);
        Assert.Empty(photo.WarningCodes);
    }

    [Theory]
    [InlineData(2.3, -1.7, 3, 0)]
    [InlineData(-4, 3, -4.5, 0)]
    [InlineData(1, 2, 1.5, 20)]
    [InlineData(5.5, 5, 0, 0)]
    public void Shift_and_turn_of_the_piece_are_found(double x, double y, double turn, double tilt)
    {
        FramePhoto photo = FramePhoto.Of(new()
        {
            OffsetMm = (x, y),
            TurnDeg = turn,
            Camera = new() { DistanceMm = 140, AimMm = (59, 59), TiltDeg = tilt }
        });
        output.WriteLine(
            $"{photo.Frame} place {photo.PlaceErrorMm:F3} darkness {photo.DarknessRms:F3} {string.Join(' ', photo.WarningCodes)}");
        Assert.Equal(x, photo.Frame.OffsetXMm, 0.05);
        Assert.Equal(y, photo.Frame.OffsetYMm, 0.05);
        Assert.Equal(turn, photo.Frame.TurnDeg, 0.1);
        Assert.InRange(photo.PlaceErrorMm, 0, 0.08);
        Assert.InRange(photo.DarknessRms, 0, 0.02);
    }

    [Theory]
    [InlineData(6, 25, 1)]
    [InlineData(-4, 20, 1)]
    [InlineData(0, 10, 0.96)]
    [InlineData(3, 15, 1.03)]
    public void A_thick_piece_seen_aslant_and_a_print_off_its_size_leave_the_cells_in_their_places(double height, double tilt, double print)
    {
        FramePhoto photo = FramePhoto.Of(new()
        {
            HeightMm = height,
            PrintScale = print,
            OffsetMm = (1.5, -2),
            TurnDeg = -2,
            Camera = new() { DistanceMm = 150, AimMm = (59, 59), TiltDeg = tilt, RollDeg = 5 }
        });
        output.WriteLine(
            $"{photo.Frame} place {photo.PlaceErrorMm:F3} darkness {photo.DarknessRms:F3} {string.Join(' ', photo.WarningCodes)}");
        Assert.InRange(photo.PlaceErrorMm, 0, 0.08);
        Assert.InRange(photo.DarknessRms, 0, 0.02);
        Assert.Equal(Math.Abs(photo.Frame.Scale - 1) > 0.02, photo.WarningCodes.Contains("sheet-scale"));
    }

    [Theory]
    [InlineData(0.4)]
    [InlineData(0.8)]
    public void The_greys_undo_a_phones_tone_curve(double strength)
    {
        FrameScene scene = new()
        {
            Tone = FrameScene.Contrasty(strength),
            Light = (x, y) => 0.85 + 0.0012 * x + 0.0008 * y,
            Bare = 0.5,
            OffsetMm = (2, 1),
            TurnDeg = 2
        };
        PlanFile bare = scene.Plan with { Plan = scene.Plan.Plan with { Frame = scene.Plan.Plan.Frame! with { GreySteps = [] } } };
        FramePhoto with = FramePhoto.Of(scene), without = FramePhoto.Of(scene with { Plan = bare });
        output.WriteLine(
            $"{with.Frame} darkness {with.DarknessRms:F3}, without {without.DarknessRms:F3} "
                + $"{string.Join(' ', with.WarningCodes)}; {string.Join(' ', without.WarningCodes)}");
        Assert.Contains("greys-unmeasured", without.WarningCodes);
        Assert.InRange(with.DarknessRms, 0, 0.03);
        Assert.InRange(with.DarknessRms, 0, without.DarknessRms / 4);
    }

    [Fact]
    public void Paper_at_the_top_of_the_photos_scale_leaves_the_tones_as_they_are_and_says_so()
    {
        FramePhoto photo = FramePhoto.Of(new() { Exposure = 1.5, Tone = FrameScene.Contrasty(0.6) });
        output.WriteLine($"{photo.Frame} {string.Join(' ', photo.WarningCodes)}");
        Assert.Contains("greys-unmeasured", photo.WarningCodes);
        Assert.Null(photo.Frame.GreyRms);
        Assert.InRange(photo.PlaceErrorMm, 0, 0.1);
    }

    [Fact]
    public void A_shadow_over_some_of_the_greys_is_noticed()
    {
        FramePhoto photo = FramePhoto.Of(new() { Light = (x, y) => y < 16 && x < 70 ? 0.6 : 1 });
        output.WriteLine($"{photo.Frame} {string.Join(' ', photo.WarningCodes)}");
        Assert.Contains("greys-misfit", photo.WarningCodes);
        Assert.Null(photo.Frame.GreyRms);
    }

    [Fact]
    public void Blank_weak_columns_and_rows_do_not_shift_the_grid()
    {
        FramePhoto photo = FramePhoto.Of(new()
        {
            Darkness = cell => cell.Column == 0 || cell.Row == 3 ? 0 : 0.15 * cell.Column + 0.1 * (3 - cell.Row),
            OffsetMm = (-3, 2),
            TurnDeg = 3
        });
        output.WriteLine($"{photo.Frame} place {photo.PlaceErrorMm:F3} {string.Join(' ', photo.WarningCodes)}");
        Assert.InRange(photo.PlaceErrorMm, 0, 0.08);
    }

    [Fact]
    public void Marks_lighter_than_the_material_are_found_alike()
    {
        FramePhoto photo =
            FramePhoto.Of(new() { Bare = 0.08, Darkness = cell => -0.1 - 0.1 * cell.Column, OffsetMm = (2, 2), TurnDeg = -2 });
        output.WriteLine(
            $"{photo.Frame} place {photo.PlaceErrorMm:F3} darkness {photo.DarknessRms:F3} {string.Join(' ', photo.WarningCodes)}");
        Assert.InRange(photo.PlaceErrorMm, 0, 0.08);
        Assert.InRange(photo.DarknessRms, 0, 0.03);
    }

    [Theory]
    [InlineData(14, 0)]
    [InlineData(-14, 0)]
    [InlineData(0, 14)]
    [InlineData(0, -14)]
    public void A_piece_a_whole_pitch_aside_is_found_there_or_refused(double x, double y)
    {
        FrameScene scene =
            new() { OffsetMm = (x, y), Darkness = cell => 0.2 * cell.Column + 0.05 * (3 - cell.Row) * Math.Sign(cell.Column) };
        Outcome<SeenCard> outcome = FramePhoto.Read(scene);
        output.WriteLine(outcome.IsRefused ? outcome.Refusal!.ToString() : "read");
        if (!outcome.IsRefused) Assert.InRange(new FramePhoto(scene, outcome.Value.Reading).PlaceErrorMm, 0, 0.1);
    }

    [Fact]
    public void A_strong_row_hidden_under_the_sheet_is_refused()
    {
        string code = FramePhoto.RefusedFor(new()
        {
            OffsetMm = (0, -24),
            Darkness = cell => cell.Row == 3 ? 0 : 0.1 + 0.1 * cell.Column + 0.1 * (3 - cell.Row)
        });
        Assert.Equal("grid-ambiguous", code);
    }

    [Fact]
    public void A_piece_laid_upside_down_is_refused() =>
        Assert.Equal("grid-upside-down", FramePhoto.RefusedFor(new() { TurnDeg = 180 }));

    [Fact]
    public void A_window_without_marks_is_refused() =>
        Assert.Equal("grid-not-found", FramePhoto.RefusedFor(new() { Darkness = _ => 0 }));

    [Fact]
    public void Focus_columns_that_fade_at_both_ends_are_refused_since_nothing_tells_which_is_which() =>
        Assert.Equal("grid-ambiguous", FramePhoto.RefusedFor(new()
        {
            Plan = FramePlans.Focus(),
            Camera = new() { DistanceMm = 128, AimMm = (66, 38) },
            Darkness = cell => cell.Column is 0 or 4 ? 0 : 0.5
        }));

    [Fact]
    public void Focus_columns_that_all_mark_are_read_with_a_doubt_about_their_order()
    {
        FramePhoto photo = FramePhoto.Of(new()
        {
            Plan = FramePlans.Focus(),
            Camera = new() { DistanceMm = 128, AimMm = (66, 38) },
            Darkness = cell => 0.7 - 0.15 * Math.Abs(cell.Column - 2)
        });
        Assert.Equal(["grid-order-unknown"], photo.WarningCodes);
    }
}
