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
    public void Every_cell_is_a_group_with_its_place_settings_and_title()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        XElement[] groups = [.. Of(Draw(plan), "cell")];
        Assert.Equal(plan.Cells.Count, groups.Length);
        foreach ((Cell cell, XElement group) in plan.Cells.Zip(groups))
        {
            CellSettings settings = plan.SettingsOf(cell);
            Assert.Equal(cell.Row, Number(group, "data-row"));
            Assert.Equal(cell.Column, Number(group, "data-column"));
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
    public void Engraved_cells_are_filled_and_cut_cells_are_outlined()
    {
        Assert.Equal("#000", Layer(Engrave).Attribute("fill")!.Value);
        Assert.Equal("none", Layer(Cut).Attribute("fill")!.Value);
        Assert.Equal("#000", Layer(Cut).Attribute("stroke")!.Value);

        static XElement Layer(PlanRequest request) =>
            Draw(CardPlanner.MakePlan(request).Value).Elements(Svg + "g").Single(group => (string?)group.Attribute("id") == "cells");
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

    private static IEnumerable<XElement> Of(XElement svg, string kind) =>
        svg.Descendants(Svg + "g").Where(group => (string?)group.Attribute("class") == kind);

    private static double Number(XElement element, string name) =>
        double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static bool Touch(CardLabel label, double x, double y, double width, double height, double clear) =>
        label.XMm < x + width + clear && x < label.XMm + label.WidthMm + clear
        && label.YMm < y + height + clear && y < label.YMm + label.HeightMm + clear;
}
