using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class CardMarksTests
{
    [Fact]
    public void Sides_are_drawn_in_three_states_by_shape_and_by_colour()
    {
        Reading reading = Samples.Cut();
        ValueList<Mark> marks = CardMarks.Of(reading).Marks;
        SideState[] states = [.. reading.Cells.SelectMany(cell => ShownCell.Each(cell.Sides!)).Select(side => side.State)];

        // Through: one bar a side. Held: one line and several stitches across it. Unseen: dots.
        StrokeMark[] held = [.. marks.OfType<StrokeMark>().Where(mark => mark.Ink == Ink.Held)];
        Assert.Equal(states.Count(state => state == SideState.Open), marks.OfType<StrokeMark>().Count(mark => mark.Ink == Ink.Through));
        Assert.Equal(states.Count(state => state is SideState.Partial or SideState.Closed), held.Count(mark => Length(mark) > 4));
        Assert.True(held.Count(mark => Length(mark) < 1.5) >= 3 * held.Count(mark => Length(mark) > 4));
        Assert.Equal(2, states.Count(state => state == SideState.Unseen));
        Assert.All(marks.OfType<DotMark>(), dot => Assert.Equal(Ink.Unseen, dot.Ink));
        Assert.True(marks.OfType<DotMark>().Count() >= 2 * 5);
        Assert.Equal(3, new[] { Ink.Through, Ink.Held, Ink.Unseen }.Select(InkColours.Line).Distinct().Count());
    }

    [Fact]
    public void A_bridge_is_marked_where_it_is()
    {
        Reading reading = Samples.Cut();
        Cell cell = reading.Plan.Cells.Single(each => (each.Row, each.Column) == (0, 1)); // left and right sides open in part
        StrokeMark[] bars =
        [
            .. CardMarks.Of(reading).Marks.OfType<StrokeMark>()
                .Where(mark => mark.Ink == Ink.Held && Math.Abs(Length(mark) - 2.4) < 1e-9),
        ];

        // 2.4 mm long, its middle 5 mm below the side's top end.
        Assert.Contains(bars, bar => bar.Points[0].X > cell.XMm + cell.WidthMm
            && Math.Abs(bar.Points[0].Y - (cell.YMm + 3.8)) < 1e-9 && Math.Abs(bar.Points[1].Y - (cell.YMm + 6.2)) < 1e-9);
        Assert.Contains(KeyEntry.SidesOf(reading), entry => entry.Words.Contains("longest bridge", StringComparison.Ordinal));
        Assert.Equal(3, KeyEntry.SidesOf(reading with { Cells = [reading.Cells[4]] }).Count()); // a cell that is through has none
    }

    [Fact]
    public void A_sides_mark_lies_beside_its_own_side()
    {
        Reading reading = Samples.Cut();
        CardSpacing spacing = CardSpacing.Of(reading);
        Cell cell = reading.Plan.Cells.Single(each => (each.Row, each.Column) == (0, 4));
        StrokeMark[] bars = [.. CardMarks.Of(reading).Marks.OfType<StrokeMark>().Where(mark => mark.Ink == Ink.Through)];

        double bottom = cell.YMm + cell.HeightMm;
        Assert.Contains(bars, bar => bar.Points.All(point =>
            Math.Abs(point.X - (cell.XMm - spacing.SideMm)) < 1e-9 && point.Y >= cell.YMm - 1e-9 && point.Y <= bottom + 1e-9));
        Assert.Contains(bars, bar => bar.Points.All(point => Math.Abs(point.Y - (bottom + spacing.SideMm)) < 1e-9));
    }

    [Theory]
    [InlineData(5, 6, 8, 6, Process.Engrave)]
    [InlineData(20, 20, 5, 2.5, Process.Engrave)]
    [InlineData(20, 20, 5, 2.5, Process.Cut)]
    [InlineData(4, 5, 8, 6, Process.Cut)]
    [InlineData(3, 3, 10, 1.5, Process.Engrave)]
    public void No_label_touches_a_cell_or_another_label(int rows, int columns, double cellMm, double gapMm, Process process)
    {
        Plan plan = Samples.Plan(rows, columns, process, cellMm, gapMm);
        Reading reading = process == Process.Cut ? Samples.Cut(plan) : Samples.Engraved(plan);
        PlateMark[] plates = [.. CardMarks.Of(reading).Marks.OfType<PlateMark>()];

        Assert.Equal(plan.Cells.Count, plates.Length);
        for (int i = 0; i < plates.Length; i++)
        {
            PlateMark plate = plates[i];
            Assert.DoesNotContain(plan.Cells, cell => Overlap(plate, new(cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm)));
            Assert.DoesNotContain(plates[..i], other => Overlap(plate, other));
        }
    }

    [Fact]
    public void Touching_cells_get_their_label_on_their_lowest_quarter()
    {
        Plan plan = Samples.Plan(4, 4, cellMm: 8, gapMm: 0);
        CardMarks marks = CardMarks.Of(Samples.Engraved(plan));
        PlateMark[] plates = [.. marks.Marks.OfType<PlateMark>()];

        Assert.True(marks.Labels.IsOverCell);
        for (int i = 0; i < plates.Length; i++)
        {
            Cell cell = plan.Cells[i];
            Assert.InRange(plates[i].Y, cell.YMm + 0.75 * cell.HeightMm - 1e-9, cell.YMm + cell.HeightMm);
            Assert.InRange(plates[i].X, cell.XMm, cell.XMm + cell.WidthMm);
        }
    }

    [Fact]
    public void A_label_tells_settings_with_units_and_the_darkness()
    {
        CellLabels labels = CardMarks.Of(Samples.Engraved()).Labels;

        Assert.Equal(["20 %  800 mm/min", "D 0.54"], labels.Lines[0]);
        Assert.Equal("glare", labels.Lines[3][1]);
        Assert.Equal("not measured", CardMarks.Of(Samples.Unmeasured()).Labels.Lines[0][1]);
    }

    [Fact]
    public void A_cut_cells_label_tells_whether_it_is_through_even_where_the_light_was_too_bright()
    {
        Reading reading = Samples.Cut();
        reading = reading with
        {
            Cells =
            [
                reading.Cells[4] with { Flags = [CellFlag.Clipped] },
                reading.Cells[4] with { Column = 3, Flags = [CellFlag.Clipped, CellFlag.DroppedOut] },
                .. reading.Cells.Skip(5),
            ],
        };

        CellLabels labels = CardMarks.Of(reading).Labels;

        Assert.EndsWith("through", labels.Lines[4][^1], StringComparison.Ordinal);
        Assert.EndsWith("fell out", labels.Lines[3][^1], StringComparison.Ordinal);
        Assert.EndsWith("not measured", labels.Lines[0][^1], StringComparison.Ordinal);
    }

    [Fact]
    public void Cells_that_were_left_out_are_outlined_with_dashes()
    {
        StrokeMark[] outlines = [.. CardMarks.Of(Samples.Engraved()).Marks.OfType<StrokeMark>().Where(mark => mark.Ink == Ink.Outline)];

        Assert.Equal(30, outlines.Length);
        Assert.Equal([3], outlines.Index().Where(each => each.Item.Dash is not null).Select(each => each.Index));
    }

    [Fact]
    public void The_typeface_writes_all_signs_that_labels_and_keys_use() =>
        Assert.True(Typeface.CanWrite("0123456789 % mm/min D − ± ² · … – × ° λ Ж é\u00a0"));

    [Fact]
    public void Characters_without_a_glyph_become_question_marks() => Assert.Equal("ab??c", Typeface.Writable("ab樺🪵c"));

    private static double Length(StrokeMark mark) => (mark.Points[^1] - mark.Points[0]).Length;

    private static bool Overlap(PlateMark a, PlateMark b) =>
        a.X < b.X + b.Width - 1e-9 && b.X < a.X + a.Width - 1e-9 && a.Y < b.Y + b.Height - 1e-9 && b.Y < a.Y + a.Height - 1e-9;
}
