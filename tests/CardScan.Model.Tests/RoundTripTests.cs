using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using CsCheck;

namespace CardScan.Model.Tests;

public class RoundTripTests
{
    [Fact]
    public void Any_plan_survives_write_and_read() =>
        Generators.Plan.Sample(plan => Assert.Equal(plan, CardJson.ReadPlan(Bytes(CardJson.Write(plan))).Value.Plan));

    [Fact]
    public void Any_reading_survives_write_and_read() =>
        Generators.Reading.Sample(reading => Assert.Equal(reading, CardJson.ReadReading(Bytes(CardJson.Write(reading))).Value));

    [Fact]
    public void A_reading_with_every_field_survives_write_and_read() =>
        Assert.Equal(Samples.Reading, CardJson.ReadReading(Bytes(CardJson.Write(Samples.Reading))).Value);

    [Fact]
    public void Plans_with_every_field_survive_write_and_read()
    {
        foreach (Plan plan in (Plan[])[Samples.Framed, Samples.Ladder, Samples.Tabbed])
            Assert.Equal(plan, CardJson.ReadPlan(Bytes(CardJson.Write(plan))).Value.Plan);
    }

    [Fact]
    public void Unknown_fields_of_any_plan_survive_at_every_level() =>
        Generators.Plan.Sample(plan =>
        {
            JsonNode extended = Extended(CardJson.Write(plan));
            string again = CardJson.Write(CardJson.ReadPlan(Bytes(extended.ToJsonString())).Value.Plan);
            Assert.True(JsonNode.DeepEquals(extended, JsonNode.Parse(again)), again);
        }, iter: 30);

    [Fact]
    public void Unknown_fields_of_a_reading_survive_at_every_level()
    {
        JsonNode extended = Extended(CardJson.Write(Samples.Reading));
        string again = CardJson.Write(CardJson.ReadReading(Bytes(extended.ToJsonString())).Value);
        Assert.Equal(Pretty(extended), Pretty(JsonNode.Parse(again)!));
    }

    [Fact]
    public void Two_plans_differ_when_only_an_unknown_field_does()
    {
        Plan plain = Samples.Plan;
        JsonNode node = JsonNode.Parse(CardJson.Write(plain))!;
        node["later"] = 1;
        Plan one = CardJson.ReadPlan(Bytes(node.ToJsonString())).Value.Plan;
        node["later"] = 2;
        Plan two = CardJson.ReadPlan(Bytes(node.ToJsonString())).Value.Plan;
        Assert.NotEqual(plain, one);
        Assert.NotEqual(one, two);
    }

    [Fact]
    public void Fields_are_written_in_the_order_of_the_documented_format()
    {
        JsonObject plan = JsonNode.Parse(CardJson.Write(Samples.Plan))!.AsObject();
        Assert.Equal(
            ["format", "number", "title", "process", "material", "machine", "card", "fiducials", "columns", "rows", "fixed", "cells"],
            Names(plan));
        Assert.Equal(["row", "column", "xMm", "yMm", "widthMm", "heightMm"], Names(plan["cells"]![0]!.AsObject()));

        JsonObject reading = JsonNode.Parse(CardJson.Write(Samples.Reading))!.AsObject();
        Assert.Equal(
            ["format", "plan", "planSha256", "photos", "cells", "kerf", "focus", "recommendations", "advice", "boundary", "tones",
                "model", "joined"],
            Names(reading));
        Assert.Equal(
            [
                "row", "column", "centerPx", "settings", "dose", "darkness", "lightness", "contrast", "deltaE2000", "evenness", "haloMm",
                "lineWidths", "sides", "through", "flags"
            ],
            Names(reading["cells"]![0]!.AsObject()));
    }

    [Fact]
    public void Writing_twice_gives_the_same_text_with_a_line_break_at_the_end()
    {
        Assert.Equal(CardJson.Write(Samples.Reading), CardJson.Write(Samples.Reading));
        Assert.EndsWith("}\n", CardJson.Write(Samples.Reading), StringComparison.Ordinal);
        Assert.DoesNotContain("\r", CardJson.Write(Samples.Reading), StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_not_measured_is_absent_but_a_recommendation_without_a_cell_says_null()
    {
        string text = CardJson.Write(Samples.Reading with
        {
            Cells = [new() { Row = 0, Column = 0, Settings = Samples.Plan.SettingsOf(Samples.Plan.Cells[0]) }],
            Recommendations = [Samples.Reading.Recommendations[0] with { Cell = null }],
        });
        Assert.DoesNotContain("\"darkness\":", text, StringComparison.Ordinal);
        Assert.Contains("\"cell\": null", text, StringComparison.Ordinal);
    }

    [Theory] // found by the fuzzer: the serialiser makes null of what a file leaves out, whatever the property's own default
    [InlineData("photos")]
    [InlineData("recommendations")]
    [InlineData("advice")]
    [InlineData("flags")]
    [InlineData("warnings")]
    [InlineData("parameters")]
    [InlineData("diagnostics")]
    [InlineData("title")]
    public void A_list_that_a_file_leaves_out_is_empty(string field)
    {
        string text = CardJson.Write(Samples.Reading);
        Assert.Contains($"\"{field}\":", text, StringComparison.Ordinal);

        Reading reading = CardJson.ReadReading(Bytes(text.Replace($"\"{field}\":", $"\"other-{field}\":", StringComparison.Ordinal))).Value;

        Assert.Equal(field == "photos" ? 0 : 1, reading.Photos.Count);
        Assert.Equal(field == "recommendations" ? 0 : 2, reading.Recommendations.Count);
        Assert.Equal(field == "advice" ? 0 : 1, reading.Advice.Count);
        Assert.Equal(field is "photos" or "warnings" ? 0 : 1, reading.Photos.Sum(photo => photo.Warnings.Count));
        Assert.Equal(field == "flags" ? 0 : 1, reading.Cells[0].Flags.Count);
        Assert.Equal(field == "parameters" ? 0 : 1, reading.Model!.Parameters.Count);
        Assert.Equal(field == "diagnostics" ? 0 : 1, reading.Model.Diagnostics.Count);
        Assert.NotNull(reading.Plan.Title);
    }

    [Fact]
    public void Letters_beyond_ASCII_stay_letters() => Assert.Contains("über", CardJson.Write(Samples.Plan), StringComparison.Ordinal);

    [Fact]
    public void A_byte_order_mark_is_accepted_and_the_fingerprint_is_of_the_file()
    {
        byte[] bytes = [.. Encoding.UTF8.Preamble, .. Bytes(CardJson.Write(Samples.Plan))];
        PlanFile file = CardJson.ReadPlan(bytes).Value;
        Assert.Equal(Samples.Plan, file.Plan);
        Assert.Equal(CardJson.Sha256(bytes), file.Sha256);
    }

    [Fact] // FIPS 180-4 example: SHA-256 of "abc".
    public void The_fingerprint_is_SHA_256_in_lower_case() =>
        Assert.Equal("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", CardJson.Sha256("abc"u8));

    /// <summary>The document with a field no version knows in every object but the maps, whose names are free anyway.</summary>
    private static JsonNode Extended(string json)
    {
        JsonNode root = JsonNode.Parse(json)!;
        Extend(root);
        return root;
    }

    private static void Extend(JsonNode? node)
    {
        if (node is JsonArray list) foreach (JsonNode? item in list) Extend(item);
        if (node is not JsonObject fields) return;
        foreach ((string name, JsonNode? value) in fields.ToArray())
        {
            if (name is "parameters" or "diagnostics")
            {
                foreach ((_, JsonNode? entry) in value!.AsObject()) Extend(entry);
            }
            else
            {
                Extend(value);
            }
        }

        fields["fieldOfALaterVersion"] = JsonNode.Parse("""{ "deep": [1, "zwei", null, true] }""");
    }

    private static string[] Names(JsonObject fields) => [.. fields.Select(field => field.Key)];

    private static string Pretty(JsonNode node) => node.ToJsonString(new JsonSerializerOptions { WriteIndented = true });

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);
}
