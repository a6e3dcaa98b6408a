using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Photos that must be refused, or measured with a warning: each names the code it expects.</summary>
public sealed class DisturbedPhotoTests
{
    private static readonly CardRectangle OverTopLeft = new(0, 0, 17, 17), OverBottomRight = new(103, 83, 17, 17);

    [Fact]
    public void One_covered_marker_is_a_warning_that_names_it()
    {
        Photographed covered = Photographed.Of(new Scene { Covers = [OverTopLeft], Camera = new() { TiltDeg = 10 } });

        covered.ShowsEveryCellWithin(placeMm: 0.1, darkness: 0.005);
        Warning warning = Assert.Single(covered.Photo.Warnings, warning => warning.Code == "marker-missing");
        Assert.Contains("marker 28 (top left) cannot be read", warning.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_covered_markers_are_a_refusal_that_names_both()
    {
        Refusal refusal = Photographed.RefusalOf(new Scene { Covers = [OverTopLeft, OverBottomRight] });

        IsPhotoRefusal(refusal, "markers-missing");
        Assert.Contains("2 corner markers cannot be read: marker 28 (top left, upper left in the photo: nearly white", refusal.Seen,
            StringComparison.Ordinal);
        Assert.Contains("marker 30 (bottom right, lower right in the photo: ", refusal.Seen, StringComparison.Ordinal);
        Assert.Contains("slide the exposure down", refusal.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void No_card_at_all_is_refused()
    {
        Refusal refusal = Photographed.RefusalOf(new Scene { Camera = new() { AimMm = (900, 50) } });

        IsPhotoRefusal(refusal, "no-markers");
    }

    [Fact]
    public void A_mirrored_photo_is_refused()
    {
        Scene scene = new();

        IsPhotoRefusal(Photographed.RefusalOf(SceneRenderer.Render(scene).Mirrored().ToPng(), scene.Plan), "mirrored");
    }

    [Fact]
    public void A_mirrored_photo_of_material_that_gets_lighter_is_refused_as_such()
    {
        Scene scene = new() { Bare = (0.06, 0.06, 0.065), MarkerRatio = 7 };

        IsPhotoRefusal(Photographed.RefusalOf(SceneRenderer.Render(scene).Mirrored().ToPng(), scene.Plan), "mirrored");
    }

    [Fact]
    public void Another_cards_photo_is_refused_with_both_numbers()
    {
        byte[] photo = SceneRenderer.Render(new Scene { Plan = TestPlans.Engraved(number: 3) }).ToPng();

        Refusal refusal = Photographed.RefusalOf(photo, TestPlans.Engraved(number: 7));

        IsPhotoRefusal(refusal, "other-card");
        Assert.Contains("card 3", refusal.Seen, StringComparison.Ordinal);
        Assert.Contains("card 7", refusal.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_cards_with_the_same_number_are_refused()
    {
        Scene scene = new();
        LinearPicture picture = SceneRenderer.Render(scene);

        IsPhotoRefusal(Photographed.RefusalOf(picture.Beside(picture).ToPng(), scene.Plan), "two-cards");
    }

    [Fact]
    public void A_plan_whose_markers_stand_elsewhere_is_refused()
    {
        Scene scene = new();
        Plan other = scene.Plan.Plan with { Card = new() { WidthMm = 120, HeightMm = 90 } };
        other = other with
        {
            Fiducials = other.Fiducials with
            {
                Markers = [.. other.Fiducials.Markers.Select((marker, i) => i == 2 ? marker with { YMm = 70, XMm = 100 } : marker)]
            }
        };

        IsPhotoRefusal(Photographed.RefusalOf(SceneRenderer.Render(scene).ToPng(), scene.Plan with { Plan = other }), "not-this-plan");
    }

    [Theory]
    [InlineData(3, 0)]
    [InlineData(0, 3)]
    [InlineData(2, 2)]
    public void A_plan_whose_cells_stand_elsewhere_is_refused(double xMm, double yMm)
    {
        // The markers agree, the grid does not: cells were burned further right and down than this plan says.
        Scene scene = new();
        Plan other = scene.Plan.Plan with
        {
            Cells = [.. scene.Plan.Plan.Cells.Select(cell => cell with { XMm = cell.XMm - xMm, YMm = cell.YMm - yMm })]
        };

        IsPhotoRefusal(Photographed.RefusalOf(SceneRenderer.Render(scene).ToPng(), scene.Plan with { Plan = other }), "cells-misplaced");
    }

    [Theory]
    [InlineData(8, 0)]
    [InlineData(0, 8.5)]
    [InlineData(8, 8.5)]
    public void A_grid_off_by_half_its_pitch_is_refused(double xMm, double yMm) =>
        IsPhotoRefusal(RefusalOfShifted(xMm, yMm), "cells-misplaced");

    [Theory]
    [InlineData(0.5, 0)]
    [InlineData(0, -0.5)]
    public void A_grid_off_by_half_a_millimetre_is_measured(double xMm, double yMm)
    {
        // Play of the belts and a coarse focus move marks by some tenths; the measured middle stays inside the mark.
        Scene scene = new();

        Outcome<SeenCard> outcome = Photographed.Read(SceneRenderer.Render(scene).ToPng(), Shifted(scene.Plan, xMm, yMm));

        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        Assert.All(outcome.Value.Reading.Cells, cell =>
            Assert.InRange(Math.Abs(cell.Darkness!.Value - scene.Darkness(scene.Plan.Plan.Cells[5 * cell.Row + cell.Column])), 0, 0.01));
    }

    [Fact]
    public void A_card_cut_off_by_the_frame_is_measured_where_it_is_seen()
    {
        // The lower left corner lies outside: marker 31 and the cells beside it are lost.
        Photographed cut = Photographed.Of(new Scene { Camera = new() { RollDeg = -55, AimMm = (76, 40), DistanceMm = 110 } });

        Assert.Contains("marker-missing", cut.WarningCodes);
        Assert.Contains("cells-out-of-frame", cut.WarningCodes);
        CellReading[] outside = [.. cut.Reading.Cells.Where(cell => cell.Flags.Contains(CellFlag.OutOfFrame))];
        Assert.InRange(outside.Length, 1, 10);
        Assert.All(outside, cell => Assert.Null(cell.Darkness));
        Assert.All(cut.Usable, cell => Assert.InRange(cut.PlaceErrorMm(cell), 0, 0.1));
        Assert.All(cut.Usable, cell => Assert.InRange(Math.Abs(cut.DarknessError(cell)), 0, 0.015));
    }

    [Fact]
    public void A_card_half_outside_the_frame_is_refused()
    {
        Refusal refusal = Photographed.RefusalOf(new Scene { Camera = new() { AimMm = (150, 50) } });

        IsPhotoRefusal(refusal, "markers-missing");
    }

    [Fact]
    public void Cells_under_a_reflection_are_flagged_and_the_others_stay_right()
    {
        // Cell (1, 2) lies at 56..64 by 37..45 mm. At its centre the reflection adds two thirds of the bare card's light.
        Photographed glaring = Photographed.Of(new Scene { Glare = new(60, 41, SpreadMm: 7, Strength: 0.35) });

        CellReading under = glaring.Reading.Cells.Single(cell => cell is { Row: 1, Column: 2 });
        Assert.Contains(CellFlag.Glare, under.Flags);
        Assert.Contains("cells-glare", glaring.WarningCodes);
        Assert.InRange(glaring.Usable.Count(), 12, 19);
        Assert.All(glaring.Usable.Where(cell => Math.Abs(cell.Column - 2) > 1),
            cell => Assert.InRange(Math.Abs(glaring.DarknessError(cell)), 0, 0.01));
        // A dark cell at the reflection's rim: little mirrored light beside it is much within it.
        Assert.All(glaring.Usable, cell => Assert.InRange(Math.Abs(glaring.DarknessError(cell)), 0, 0.1));
    }

    [Fact]
    public void An_overexposed_photo_is_refused()
    {
        Refusal refusal = Photographed.RefusalOf(new Scene { Exposure = 2.2 });

        IsPhotoRefusal(refusal, "overexposed");
    }

    [Fact]
    public void Cells_of_the_overexposed_part_of_a_photo_are_flagged_as_clipped_and_the_others_stay_right()
    {
        Photographed bright = Photographed.Of(new Scene { Light = (x, _) => 0.7 + 1.6 * x / 120 });

        // Bare green is 0.5; it reaches the top of the scale (code 250) at a light of 1.91: x = 91 mm, the last column's frame.
        Assert.All(bright.Reading.Cells, cell => Assert.Equal(cell.Column == 4, cell.Flags.Contains(CellFlag.Clipped)));
        Assert.Contains("cells-clipped", bright.WarningCodes);
        Assert.All(bright.Usable, cell => Assert.InRange(Math.Abs(bright.DarknessError(cell)), 0, 0.01));
    }

    [Fact]
    public void A_dark_photo_is_measured_with_a_warning()
    {
        Photographed dark = Photographed.Of(new Scene { Exposure = 0.06 });

        Assert.Contains("dark", dark.WarningCodes);
        Assert.InRange(dark.Usable.Where(cell => cell.Column < 3).Max(cell => Math.Abs(dark.DarknessError(cell))), 0, 0.02);
    }

    [Fact]
    public void A_photo_just_below_the_top_of_its_scale_is_measured_without_a_flag()
    {
        Photographed bright = Photographed.Of(new Scene { Exposure = 1.6 });

        bright.ShowsEveryCellWithin(placeMm: 0.01, darkness: 0.003);
    }

    [Fact]
    public void A_blurred_photo_is_refused()
    {
        // 4 mm cells are 32 px wide; blur of 3 px spreads each edge over a fifth of that.
        Refusal refusal = Photographed.RefusalOf(new Scene { Plan = TestPlans.WithCellsOf(sizeMm: 4), BlurPx = 3 });

        IsPhotoRefusal(refusal, "blurred");
    }

    [Fact]
    public void A_photo_too_blurred_for_its_markers_is_refused()
    {
        Refusal refusal = Photographed.RefusalOf(new Scene { BlurPx = 12 });

        IsPhotoRefusal(refusal, "no-markers");
    }

    [Fact]
    public void A_card_seen_from_too_far_is_refused()
    {
        // 2 mm cells at 6.9 px/mm: 14 px.
        Refusal refusal =
            Photographed.RefusalOf(new Scene { Plan = TestPlans.WithCellsOf(sizeMm: 2), Camera = new() { DistanceMm = 175 } });

        IsPhotoRefusal(refusal, "too-small");
    }

    [Fact]
    public void A_hard_shadow_over_half_the_card_is_told()
    {
        Photographed shadowed = Photographed.Of(new Scene { Light = (x, y) => x + 0.6 * y < 80 ? 0.35 : 1 });

        Assert.NotEmpty(shadowed.Photo.Warnings);
        // A cell that the shadow's edge crosses cannot be right; it must then say so by its error.
        Assert.All(
            shadowed.Usable,
            cell => Assert.InRange(Math.Abs(shadowed.DarknessError(cell)), 0, Math.Max(0.03, 3 * cell.Darkness!.StandardError)));
    }

    private static Refusal RefusalOfShifted(double xMm, double yMm)
    {
        Scene scene = new();
        return Photographed.RefusalOf(SceneRenderer.Render(scene).ToPng(), Shifted(scene.Plan, xMm, yMm));
    }

    /// <summary>The same plan with its cells, but not its markers, moved left and up.</summary>
    private static PlanFile Shifted(PlanFile plan, double xMm, double yMm) =>
        plan with
        {
            Plan = plan.Plan with { Cells = [.. plan.Plan.Cells.Select(cell => cell with { XMm = cell.XMm - xMm, YMm = cell.YMm - yMm })] }
        };

    private static void IsPhotoRefusal(Refusal refusal, string code)
    {
        Assert.Equal(code, refusal.Code);
        Assert.Equal(RefusalKind.UnmeasurablePhoto, refusal.Kind);
        IsOneLineWithARemedy(refusal);
    }

    internal static void IsOneLineWithARemedy(Refusal refusal)
    {
        Assert.NotEmpty(refusal.Seen);
        Assert.NotEmpty(refusal.Remedy);
        Assert.DoesNotContain('\n', refusal.ToString());
    }
}
