using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;
using CsCheck;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class CardDrawingTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Fact]
    public void The_drawing_has_true_size_and_one_unit_a_millimetre()
    {
        XElement svg = Draw(CardPlanner.MakePlan(Engrave).Value);
        Assert.Equal("118mm", (string?)svg.Attribute("width"));
        Assert.Equal("104mm", (string?)svg.Attribute("height"));
        Assert.Equal("0 0 118 104", (string?)svg.Attribute("viewBox"));
    }

    [Fact]
    public void Every_cell_is_a_group_with_its_place_from_1_its_settings_and_title()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        XElement[] groups = [.. Of(Draw(plan), "cell")];
        Assert.Equal(plan.Cells.Count, groups.Length);
        foreach ((int at, XElement group) in plan.Burning!.Order.Zip(groups))
        {
            Cell cell = plan.Cells[at];
            CellSettings settings = plan.SettingsOf(cell);
            Assert.Equal(cell.Row + 1, Number(group, "data-row"));
            Assert.Equal(cell.Column + 1, Number(group, "data-column"));
            Assert.Equal(settings.PowerPercent, Number(group, "data-power-percent"));
            Assert.Equal(settings.SpeedMmPerMin, Number(group, "data-speed-mm-per-min"));
            Assert.Equal(settings.LineIntervalMm, Number(group, "data-line-interval-mm"));
            Assert.Equal(
                $"Row {cell.Row + 1}, column {cell.Column + 1}: {settings.SpeedMmPerMin} mm/min at {settings.PowerPercent} %",
                group.Element(Svg + "title")!.Value);
            XElement rectangle = group.Element(Svg + "rect")!;
            Assert.Equal((cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm),
                (Number(rectangle, "x"), Number(rectangle, "y"), Number(rectangle, "width"), Number(rectangle, "height")));
        }
    }

    [Fact]
    public void Engraved_cells_and_markers_are_filled_and_cut_cells_ladders_and_labels_are_lined()
    {
        Assert.Equal([true, false, true], Fills(Engrave));
        Assert.Equal([true, false, false], Fills(Cut));
        Assert.Equal([true, false, false], Fills(Ladder));
        Assert.Equal([false, true], Fills(Engrave with { Frame = Paper.A4 }));

        static bool[] Fills(PlanRequest request) =>
        [
            .. Of(Draw(CardPlanner.MakePlan(request).Value), "step").DistinctBy(KindOf).Select(step =>
            {
                bool isFill = (string?)step.Attribute("fill") != "none";
                Assert.Equal(isFill, step.Attribute("stroke") is null);
                return isFill;
            }),
        ];
    }

    [Fact]
    public void Each_setting_has_a_colour_of_its_own_in_the_order_of_burning()
    {
        foreach (PlanRequest request in (PlanRequest[])[Engrave, Cut, Ladder, Engrave with { Frame = Paper.A4 }])
        {
            Plan plan = CardPlanner.MakePlan(request).Value;
            ValueList<BurnStep> steps = CardPlanner.StepsOf(plan);
            Assert.Equal(Enumerable.Range(1, steps.Count), steps.Select(step => step.Order));
            Assert.Distinct(steps.Select(step => step.Colour));
            Assert.Distinct(steps.Where(step => step.Kind == StepKind.Cells).Select(step => step.Settings));
            Assert.Equal(plan.Burning!.Order.Select(i => plan.Cells[i]), steps.SelectMany(step => step.Cells));
            Assert.All(steps, step => Assert.All(step.Cells, cell => Assert.Equal(step.Settings, plan.SettingsOf(cell))));
            Assert.Equal(
                steps.Select(step => step.Colour),
                Of(Draw(plan), "step").Select(step => (string?)step.Attribute(step.Attribute("stroke") is null ? "fill" : "stroke")));
        }
    }

    [Fact]
    public void Cells_of_one_setting_are_one_step_with_one_colour()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        Plan alike = plan with { Columns = plan.Columns with { Values = [40, 40, 40, 40, 40, 40] } };
        BurnStep[] cells = [.. CardPlanner.StepsOf(alike).Where(step => step.Kind == StepKind.Cells)];
        Assert.Equal(plan.Rows.Values.Count, cells.Length);
        Assert.All(cells, step => Assert.Equal(6, step.Cells.Count));
    }

    [Fact]
    public void Markers_and_labels_have_their_setting_and_a_plan_that_does_not_say_it_is_drawn_all_the_same()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Mark = new() { PowerPercent = 60, SpeedMmPerMin = 2000 } }).Value;
        BurnStep[] marks = [.. CardPlanner.StepsOf(plan).Take(2)];
        Assert.Equal([(StepKind.Markers, "#000000", 0.1), (StepKind.Labels, SettingColours.At(1), null)],
            marks.Select(step => (step.Kind, step.Colour, step.Settings!.LineIntervalMm)));
        Assert.All(
            marks.Select(step => step.Settings!),
            settings => Assert.Equal((60, 2000, 1), (settings.PowerPercent, settings.SpeedMmPerMin, settings.Passes)));
        Assert.All(CardPlanner.StepsOf(plan with { Burning = null }).Take(2), step => Assert.Null(step.Settings));
        Assert.Equal(30, Of(Draw(plan with { Burning = null }), "cell").Count());
    }

    [Fact]
    public void The_largest_card_has_a_colour_for_each_of_its_cells()
    {
        PlanRequest large = Engrave with
        {
            CellSideMm = 4, Settings = [Range(Setting.PowerPercent, "5:100:25"), Range(Setting.SpeedMmPerMin, "500:5000:40")],
        };
        Assert.Equal(1002, CardPlanner.StepsOf(CardPlanner.MakePlan(large).Value).DistinctBy(step => step.Colour).Count());
    }

    [Fact]
    public void The_drawings_of_the_steps_have_the_size_of_the_whole_and_add_up_to_it()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Frame = Paper.A4 }).Value;
        XElement whole = Draw(plan);
        XElement[] parts = [.. CardPlanner.StepsOf(plan).Select(step => XElement.Parse(CardPlanner.DrawSvg(plan, step)))];
        Assert.All(parts, part => Assert.Equal(whole.Attributes().Select(a => $"{a}"), part.Attributes().Select(a => $"{a}")));
        Assert.Equal(Of(whole, "step").Select(step => $"{step}"), parts.Select(part => $"{Assert.Single(Of(part, "step"))}"));
        Assert.Equal("Card 17: birch plywood, bench diode: labels", parts[0].Element(Svg + "title")!.Value);
    }

    [Fact]
    public void A_planned_card_carries_its_number_both_axes_and_every_value()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        string[] texts = [.. CardLabels.Of(plan).Select(label => label.Text)];
        Assert.Contains("CARD 17", texts);
        Assert.Contains("POWER %", texts);
        Assert.Contains("SPEED mm/min", texts);
        Assert.Contains("10 W  1 PASS  FOCUS 0 mm  INTERVAL 0.1 mm", texts);
        Assert.Equal(4 + 6 + 5, texts.Length);
        Assert.All(texts, text => Assert.True(StrokeFont.CanDraw(text), text));
    }

    [Fact]
    public void Labels_of_any_planned_card_are_clear_of_cells_markers_edges_and_each_other() =>
        Generators.Request.Sample(request =>
        {
            Plan plan = CardPlanner.MakePlan(request).Value;
            CardLabel[] labels = [.. CardLabels.Of(plan)];
            Assert.True(labels.Length >= 1 + plan.Columns.Values.Count + plan.Rows.Values.Count, "labels of an ordinary card are missing");
            foreach (CardLabel label in labels)
            {
                Assert.True(StrokeFont.CanDraw(label.Text), label.Text);
                Assert.All(plan.Cells, cell => Assert.False(Touch(label, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm, 2.5)));
                Assert.All(plan.Fiducials.Markers,
                    marker => Assert.False(Touch(label, marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm, 1.5)));
                Assert.All(labels.Where(other => other != label),
                    other => Assert.False(Touch(label, other.XMm, other.YMm, other.WidthMm, other.HeightMm, 0.3)));
                Assert.True(label.XMm > 0.5 && label.YMm > 0.5 && label.XMm + label.WidthMm < plan.Card.WidthMm - 0.5
                    && label.YMm + label.HeightMm < plan.Card.HeightMm - 0.5);
            }
        }, iter: 300);

    [Fact] // A frame's window leaves the least room beside the grid.
    public void The_name_of_the_rows_stands_clear_of_their_values_and_in_their_middle()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Frame = Paper.A4 }).Value;
        CardLabel[] labels = [.. CardLabels.Of(plan)];
        CardLabel name = Assert.Single(labels, label => label.IsUpward);
        CardLabel[] values =
            [.. plan.Rows.Values.Select(value => labels.Single(label => label.Text == value.ToString(CultureInfo.InvariantCulture)))];
        Assert.All(values, value => Assert.True(value.XMm - name.XMm - name.WidthMm >= 2 - 1e-9 && value.HeightMm > 2));
        Assert.Equal(values.Average(value => value.YMm + value.HeightMm / 2), name.YMm + name.HeightMm / 2, 0.5);
    }

    [Fact]
    public void Labels_of_a_plan_laid_out_elsewhere_are_left_out_where_they_would_touch_a_cell()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        Plan crowded = plan with { Cells = [.. plan.Cells.Skip(1), plan.Cells[0] with { XMm = 50, YMm = 1 }] };
        Assert.All(CardLabels.Of(crowded), label => Assert.False(Touch(label, 50, 1, 8, 8, 0)));
    }

    [Fact]
    public void Words_that_the_beam_cannot_draw_become_capitals_or_gaps() =>
        Assert.Equal("CARD 17  mm/min", StrokeFont.Drawable("Card 17\u00e9 mm/min"));

    [Fact]
    public void Words_of_the_maker_cannot_break_the_drawing()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Title = "<b>&\u0001\"']]>" }).Value;
        Assert.Equal("Card 17: <b>&\"']]>", Draw(plan).Element(Svg + "title")!.Value);
    }

    private static XElement Draw(Plan plan) => XElement.Parse(CardPlanner.DrawSvg(plan));

    /// <summary>What the first shape of a step is.</summary>
    private static string? KindOf(XElement step) => (string?)step.Element(Svg + "g")!.Attribute("class");

    private static IEnumerable<XElement> Of(XElement svg, string kind) =>
        svg.Descendants(Svg + "g").Where(group => (string?)group.Attribute("class") == kind);

    private static double Number(XElement element, string name) =>
        double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static bool Touch(CardLabel label, double x, double y, double width, double height, double clear) =>
        label.XMm < x + width + clear && x < label.XMm + label.WidthMm + clear
        && label.YMm < y + height + clear && y < label.YMm + label.HeightMm + clear;
}
