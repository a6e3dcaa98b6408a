using System.Text;
using System.Text.Json.Nodes;

namespace CardScan.Model.Tests;

public class BadPlanTests
{
    /// <summary>Path of a field, what to put there as JSON ("-" removes it), and how the message must begin.</summary>
    public static TheoryData<string, string, string> Faults => new()
    {
        { "format", "-", "$.format is missing: expected \"cardscan-plan/1\"" },
        { "format", "\"cardscan-plan/2\"", "$.format is \"cardscan-plan/2\": expected \"cardscan-plan/1\"" },
        { "number", "-", "$.number is missing: expected a whole number" },
        { "number", "1.5", "$.number is 1.5: expected a whole number" },
        { "number", "250", "$.number is 250: expected 0 to 249" },
        { "number", "\"17\"", "$.number is \"17\": expected a whole number" },
        { "title", "null", "$.title is null: expected a text" },
        { "process", "\"melt\"", "$.process is \"melt\": expected one of \"engrave\", \"cut\"" },
        { "process", "0", "$.process is 0: expected one of \"engrave\", \"cut\"" },
        { "material", "\"birch\"", "$.material is \"birch\": expected an object" },
        { "material.name", "-", "$.material.name is missing: expected a text" },
        { "material.thicknessMm", "-3", "$.material.thicknessMm is -3: expected more than 0 mm" },
        { "machine.ratedOpticalWatts", "0", "$.machine.ratedOpticalWatts is 0: expected more than 0 W optical" },
        { "machine.ratedOpticalWatts", "\"NaN\"", "$.machine.ratedOpticalWatts is \"NaN\": expected a number" },
        { "machine.ratedOpticalWatts", "1e999", "$.machine.ratedOpticalWatts is 1e999: expected a number" },
        { "card.widthMm", "-120", "$.card.widthMm is -120: expected more than 0 mm" },
        { "card.heightMm", "-", "$.card.heightMm is missing: expected a number" },
        { "fiducials.dictionary", "\"DICT_4X4_50\"", "$.fiducials.dictionary is \"DICT_4X4_50\": expected \"DICT_6X6_1000\"" },
        { "fiducials.sideMm", "0", "$.fiducials.sideMm is 0: expected more than 0 mm" },
        { "fiducials.markers", "[]", "$.fiducials.markers has 0 entries: expected 4" },
        { "fiducials.markers.0.id", "72", "$.fiducials.markers[0].id is 72: expected 68" },
        { "fiducials.markers.2.xMm", "75", "$.fiducials.markers[2] reaches past the card's edge" },
        { "fiducials.markers.2.xMm", "4", "$.fiducials.markers are not at four corners" },
        { "columns.setting", "\"hatchAngle\"", "$.columns.setting is \"hatchAngle\": expected one of \"powerPercent\", \"speedMmPerMin\"" },
        { "columns.setting", "\"PowerPercent\"", "$.columns.setting is \"PowerPercent\": expected one of" },
        { "columns.values", "[]", "$.columns.values is empty" },
        { "columns.values.1", "140", "$.columns.values[1] is 140: expected more than 0, at most 100 %" },
        { "columns.values.1", "\"40\"", "$.columns.values[1] is \"40\": expected a number" },
        { "columns.setting", "\"speedMmPerMin\"", "$.rows.setting is speedMmPerMin, the same as columns.setting" },
        { "rows.values.0", "0", "$.rows.values[0] is 0: expected more than 0, at most 1000000 mm/min" },
        { "fixed.lineIntervalMm", "-", "$.fixed.lineIntervalMm is missing" },
        { "fixed.lineIntervalMm", "-0.1", "$.fixed.lineIntervalMm is -0.1: expected more than 0, at most 100 mm" },
        { "fixed.passes", "0", "$.fixed.passes is 0: expected a whole number from 1 to 1000" },
        { "cells", "-", "$.cells is missing: expected a list" },
        { "cells", "[]", "$.cells is empty" },
        { "cells", "{}", "$.cells is {}: expected a list" },
        { "cells.0", "null", "$.cells[0] is null: expected an object" },
        { "cells.0.row", "-", "$.cells[0].row is missing: expected a whole number" },
        { "cells.0.row", "1", "$.cells[0].row is 1: expected 0 to 0" },
        { "cells.1.column", "0", "$.cells[1] has the same row and column as cells[0]" },
        { "cells.1.widthMm", "-8", "$.cells[1].widthMm is -8: expected more than 0 mm" },
        { "cells.1.heightMm", "0", "$.cells[1].heightMm is 0: expected more than 0 mm" },
        { "cells.1.xMm", "24", "$.cells[1] overlaps cells[0]: expected cells apart from each other" },
        { "cells.1.xMm", "78", "$.cells[1] reaches past the card's edge" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_wrong_plan_is_refused_with_path_found_and_expected_in_one_line(string path, string value, string start)
    {
        Refusal? refusal = CardJson.ReadPlan(Encoding.UTF8.GetBytes(Spoilt(path, value))).Refusal;
        Assert.NotNull(refusal);
        Assert.Equal(RefusalKind.WrongInput, refusal.Kind);
        Assert.StartsWith(start, refusal.Seen, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.ToString());
        Assert.NotEmpty(refusal.Remedy);
    }

    [Theory]
    [InlineData("kind", "\"spiral\"", "$.kind is \"spiral\": expected one of \"grid\", \"focusLadder\"")]
    [InlineData("process", "\"cut\"", "$.kind is focusLadder and process is cut")]
    [InlineData("columns.setting", "\"powerPercent\"", "$.columns.values[0] is -1")]
    [InlineData("kind", "-", "$.fixed.lineIntervalMm is missing")]
    [InlineData("cells.0.lines", "-", "$.cells[0].lines is missing")]
    [InlineData("cells.0.lines.0.toYMm", "31", "$.cells[0].lines[0] is not a line along x or y inside its cell")]
    [InlineData("cells.0.lines.0.toXMm", "40", "$.cells[0].lines[0] is not a line along x or y inside its cell")]
    [InlineData("burning.order", "[0, 0]", "$.burning.order does not hold each place from 0 to 1 once")]
    [InlineData("burning.order", "[0, 0.5]", "$.burning.order[1] is 0.5: expected a whole number")]
    [InlineData("burning.marks.lineIntervalMm", "-", "$.burning.marks.lineIntervalMm is missing")]
    [InlineData("burning.marks.powerPercent", "140", "$.burning.marks.powerPercent is 140")]
    [InlineData("machine.fullPowerS", "0", "$.machine.fullPowerS is 0: expected 1 to 1000000.")]
    public void A_wrong_plan_of_a_ladder_is_refused(string path, string value, string start)
    {
        JsonNode plan = JsonNode.Parse(CardJson.Write(Samples.Ladder))!;
        Set(plan, path, value);
        Assert.StartsWith(start, CardJson.ReadPlan(Encoding.UTF8.GetBytes(plan.ToJsonString())).Refusal!.Seen, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("frame.window.widthMm", "20", "$.frame.window does not hold every cell")]
    [InlineData("frame.window.widthMm", "200", "$.frame.window reaches past the sheet's edge")]
    [InlineData("frame.paperWidthMm", "50", "$.frame does not fit on its paper")]
    [InlineData("frame.greySteps.0.density", "-1", "$.frame.greySteps[0].density is -1: expected 0 to 4")]
    [InlineData("frame.rulers.0.stepMm", "0", "$.frame.rulers[0].stepMm is 0")]
    [InlineData("process", "\"cut\"", "$.frame is around a cut card or a focus ladder")]
    public void A_wrong_plan_of_a_frame_is_refused(string path, string value, string start)
    {
        JsonNode plan = JsonNode.Parse(CardJson.Write(Samples.Framed))!;
        Set(plan, path, value);
        Assert.StartsWith(start, CardJson.ReadPlan(Encoding.UTF8.GetBytes(plan.ToJsonString())).Refusal!.Seen, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("process", "\"cut\"", "$.kind is greyStrip and process is cut")]
    [InlineData("kind", "\"grid\"", "$.machine.ratedOpticalWatts is 0")]
    [InlineData("columns.setting", "\"focusOffsetMm\"", "$.columns.setting does not fit the kind of the card")]
    [InlineData("rows.setting", "\"printedDensity\"", "$.rows.setting does not fit the kind of the card")]
    [InlineData("columns.values.0", "0", "$.columns.values[0] is 0: expected more than 0, at most 4")]
    public void A_wrong_plan_of_a_grey_strip_is_refused(string path, string value, string start)
    {
        JsonNode plan = JsonNode.Parse(CardJson.Write(Samples.Strip))!;
        Assert.Null(CardJson.ReadPlan(Encoding.UTF8.GetBytes(plan.ToJsonString())).Refusal);
        Set(plan, path, value);
        Assert.StartsWith(start, CardJson.ReadPlan(Encoding.UTF8.GetBytes(plan.ToJsonString())).Refusal!.Seen, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("process", "\"engrave\"")]
    [InlineData("cells.0.tabs.0.atMm", "8")]
    [InlineData("cells.0.tabs.0.lengthMm", "0")]
    [InlineData("cells.0.tabs.0.side", "\"front\"")]
    public void A_wrong_tab_is_refused(string path, string value)
    {
        JsonNode plan = JsonNode.Parse(CardJson.Write(Samples.Tabbed with { Fixed = new() { LineIntervalMm = 0.1 } }))!;
        Set(plan, path, value);
        Assert.Contains("$.cells[0].tabs", CardJson.ReadPlan(Encoding.UTF8.GetBytes(plan.ToJsonString())).Refusal!.Seen,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_cell_over_a_marker_is_refused()
    {
        JsonNode plan = JsonNode.Parse(CardJson.Write(Samples.Plan))!;
        plan["cells"]![0]!["xMm"] = 12;
        plan["cells"]![0]!["yMm"] = 12;
        Assert.StartsWith("$.cells[0] lies over a marker", CardJson.ReadPlan(Encoding.UTF8.GetBytes(plan.ToJsonString())).Refusal!.Seen,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "This is not a plan file")]
    [InlineData("not json", "This is not a plan file: the text stops being JSON at line 1, column 2")]
    [InlineData("{ \"format\": \"cardscan-plan/1\",\n \"number\": NaN }",
        "This is not a plan file: the text stops being JSON at line 2, column 12")]
    [InlineData("[]", "$ is []: expected an object")]
    [InlineData("{}", "$.format is missing")]
    [InlineData("""{"format":"cardscan-reading/1"}""", "This is a reading, not a plan.")]
    public void A_file_that_is_no_plan_is_refused(string text, string start)
    {
        Refusal refusal = CardJson.ReadPlan(Encoding.UTF8.GetBytes(text)).Refusal!;
        Assert.StartsWith(start, refusal.Seen, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.ToString());
    }

    [Fact] // found by the fuzzer
    public void A_plan_without_the_fixed_settings_that_it_needs_is_refused()
    {
        Plan plan = Samples.Plan with { Columns = new() { Setting = Setting.Passes, Values = [1, 2] } };
        string json = CardJson.Write(plan).Replace("\"fixed\"", "\"unknown\"", StringComparison.Ordinal);

        Assert.Contains("fixed.powerPercent is missing", CardJson.ReadPlan(Encoding.UTF8.GetBytes(json)).Refusal!.Seen,
            StringComparison.Ordinal);
    }

    [Theory] // found by the fuzzer
    [InlineData("{\"format\":\"cardscan-plan/1\",\"\\ud800\":1}")]
    [InlineData("{\"format\":\"cardscan-plan/1\",\"title\":\"\\ud800\"}")]
    [InlineData("{\"format\":\"\\ud800\"}")]
    public void Half_of_a_surrogate_pair_is_refused(string json)
    {
        Refusal refusal = CardJson.ReadPlan(Encoding.UTF8.GetBytes(json)).Refusal!;

        Assert.StartsWith("plan-", refusal.Code, StringComparison.Ordinal);
        Assert.NotEmpty(refusal.Remedy);
    }

    [Fact]
    public void Bytes_that_are_no_text_are_refused() =>
        Assert.Equal("plan-not-json", CardJson.ReadPlan([0xFF, 0xD8, 0xFF, 0xE0, 0, 0x10]).Refusal!.Code);

    [Fact]
    public void JSON_nested_without_end_is_refused() =>
        Assert.Equal("plan-not-json", CardJson.ReadPlan(Encoding.UTF8.GetBytes(new string('[', 100_000))).Refusal!.Code);

    [Fact]
    public void A_long_text_in_the_wrong_place_is_cut_short_in_the_message() =>
        Assert.True(
            CardJson.ReadPlan(Encoding.UTF8.GetBytes(Spoilt("number", $"\"{new string('x', 5000)}\""))).Refusal!.ToString().Length < 300);

    [Fact]
    public void A_line_break_inside_a_wrong_text_does_not_break_the_message() =>
        Assert.DoesNotContain('\n', CardJson.ReadPlan(Encoding.UTF8.GetBytes(Spoilt("number", "\"a\\nb\""))).Refusal!.ToString());

    [Fact]
    public void A_line_break_inside_the_dictionary_name_does_not_break_the_message() =>
        Assert.DoesNotContain(
            '\n', CardJson.ReadPlan(Encoding.UTF8.GetBytes(Spoilt("fiducials.dictionary", "\"a\\nb\""))).Refusal!.ToString());

    [Fact]
    public void A_plan_of_more_than_a_thousand_cells_is_refused()
    {
        Plan many = Samples.Plan with { Cells = Enumerable.Repeat(Samples.Plan.Cells[0], PlanRules.MostCells + 1).ToValueList() };
        Assert.StartsWith("$.cells has 1001 entries: expected at most 1000", PlanRules.Check(many)!.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void The_plan_inside_a_reading_is_checked_too()
    {
        JsonNode reading = JsonNode.Parse(CardJson.Write(Samples.Reading))!;
        reading["plan"]!["number"] = 300;
        Assert.StartsWith("$.plan.number is 300", CardJson.ReadReading(Encoding.UTF8.GetBytes(reading.ToJsonString())).Refusal!.Seen,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("cells.0.centerPx", "[1]", "$.cells[0].centerPx is [1]: expected [x, y]")]
    [InlineData("cells.0.darkness.value", "-", "$.cells[0].darkness.value is missing: expected a number")]
    [InlineData("cells.0.sides.left.state", "\"ajar\"",
        "$.cells[0].sides.left.state is \"ajar\": expected one of \"open\", \"partial\", \"closed\", \"unseen\"")]
    [InlineData("cells.0.settings.speedMmPerMin", "\"fast\"", "$.cells[0].settings.speedMmPerMin is \"fast\": expected a number")]
    [InlineData("model.diagnostics.rms", "\"small\"", "$.model.diagnostics.rms is \"small\": expected a number")]
    [InlineData("photos.0.warnings", "7", "$.photos[0].warnings is 7: expected a list")]
    public void A_wrong_reading_is_refused_with_path_found_and_expected(string path, string value, string start)
    {
        JsonNode reading = JsonNode.Parse(CardJson.Write(Samples.Reading))!;
        Set(reading, path, value);
        Assert.StartsWith(start, CardJson.ReadReading(Encoding.UTF8.GetBytes(reading.ToJsonString())).Refusal!.Seen,
            StringComparison.Ordinal);
    }

    private static string Spoilt(string path, string value)
    {
        if (value == "1e999") return Spoilt(path, "123456789").Replace("123456789", value, StringComparison.Ordinal);
        JsonNode plan = JsonNode.Parse(CardJson.Write(Samples.Plan))!;
        Set(plan, path, value);
        return plan.ToJsonString();
    }

    private static void Set(JsonNode root, string path, string value)
    {
        string[] steps = path.Split('.');
        JsonNode parent = steps[..^1].Aggregate(root, (node, step) => node is JsonArray list ? list[int.Parse(step)]! : node[step]!);
        JsonNode? put = value == "-" ? null : JsonNode.Parse(value);
        if (parent is JsonArray items) items[int.Parse(steps[^1])] = put;
        else if (value == "-") Assert.True(parent.AsObject().Remove(steps[^1]));
        else parent[steps[^1]] = put;
    }
}
