using System.Text;
using System.Text.Json.Nodes;

namespace CardScan.Model.Tests;

public class BadReadingTests
{
    /// <summary>Path of a field, what to put there as JSON, and how the message must begin.</summary>
    public static TheoryData<string, string, string> Faults => new()
    {
        { "cells.0.row", "1", "$.cells[0].row is 1: expected 0 to 0" },
        { "cells.0.row", "-1", "$.cells[0].row is -1: expected 0 to 0" },
        { "cells.0.column", "2", "$.cells[0].column is 2: expected 0 to 1" },
        { "cells.0.settings.powerPercent", "140", "$.cells[0].settings.powerPercent is 140: expected more than 0, at most 100 %" },
        { "cells.0.settings.speedMmPerMin", "0", "$.cells[0].settings.speedMmPerMin is 0: expected more than 0, at most 1000000 mm/min" },
        { "cells.0.settings.passes", "0", "$.cells[0].settings.passes is 0: expected a whole number from 1 to 1000" },
        { "cells.0.settings.lineIntervalMm", "-0.1", "$.cells[0].settings.lineIntervalMm is -0.1: expected more than 0, at most 100 mm" },
        { "cells.0.darkness.standardError", "-0.01", "$.cells[0].darkness.standardError is -0.01: expected 0 or more, at most 1000000" },
        { "cells.0.lightness.standardError", "-1", "$.cells[0].lightness.standardError is -1" },
        { "cells.0.contrast.standardError", "-1", "$.cells[0].contrast.standardError is -1" },
        { "cells.0.deltaE2000.standardError", "-1", "$.cells[0].deltaE2000.standardError is -1" },
        { "cells.0.evenness.standardError", "-1", "$.cells[0].evenness.standardError is -1" },
        { "cells.0.haloMm.standardError", "-1", "$.cells[0].haloMm.standardError is -1" },
        { "cells.0.sides.left.openFraction", "1.1", "$.cells[0].sides.left.openFraction is 1.1: expected 0 to 1" },
        { "cells.0.sides.right.openFraction", "-0.1", "$.cells[0].sides.right.openFraction is -0.1: expected 0 to 1" },
        { "cells.0.sides.top.seenFraction", "98", "$.cells[0].sides.top.seenFraction is 98: expected 0 to 1" },
        { "cells.0.sides.bottom.seenFraction", "-1", "$.cells[0].sides.bottom.seenFraction is -1: expected 0 to 1" },
        { "cells.0.darkness.standardError", "1e308", "$.cells[0].darkness.standardError is 1E+308: expected 0 or more, at most 1000000" },
        { "kerf.acrossXMm.standardError", "-0.1", "$.kerf.acrossXMm.standardError is -0.1: expected 0 or more, at most 1000000" },
        { "kerf.acrossYMm.standardError", "-0.1", "$.kerf.acrossYMm.standardError is -0.1: expected 0 or more, at most 1000000" },
        { "recommendations.0.confidence", "95", "$.recommendations[0].confidence is 95: expected 0 to 1" },
        { "recommendations.0.unburned.confidence", "95", "$.recommendations[0].unburned.confidence is 95: expected 0 to 1" },
        { "recommendations.0.cell.row", "1", "$.recommendations[0].cell.row is 1: expected 0 to 0" },
        { "recommendations.1.card", "250", "$.recommendations[1].card is 250: expected 0 to 249" },
        { "recommendations.1.earlierCell.settings.speedMmPerMin", "0",
            "$.recommendations[1].earlierCell.settings.speedMmPerMin is 0: expected more than 0, at most 1000000 mm/min" },
        { "recommendations.1.earlierCell.darkness.standardError", "-1", "$.recommendations[1].earlierCell.darkness.standardError is -1" },
        { "joined.0.number", "-1", "$.joined[0].number is -1: expected 0 to 249" },
        { "joined.0.cellsUsed", "-1", "$.joined[0].cellsUsed is -1: expected 0 or more" },
        { "joined.0.doseFactor.standardError", "-1", "$.joined[0].doseFactor.standardError is -1" },
        { "joined.0.markFactor.standardError", "-1", "$.joined[0].markFactor.standardError is -1" },
        { "model.parameters.a.standardError", "-1", "$.model.parameters.a.standardError is -1: expected 0 or more" },
        { "model.curve.cells.0.column", "2", "$.model.curve.cells[0].column is 2: expected 0 to 1" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_reading_that_contradicts_itself_is_refused_with_path_found_and_expected_in_one_line(
        string path, string value, string start)
    {
        JsonNode reading = Sample();
        Set(reading, path, JsonNode.Parse(value));
        Refusal refusal = Read(reading).Refusal!;
        Assert.Equal("reading-rule", refusal.Code);
        Assert.StartsWith(start, refusal.Seen, StringComparison.Ordinal);
        Assert.Contains("expected", refusal.Seen, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.ToString());
        Assert.True(refusal.ToString().Length < 250, refusal.ToString());
    }

    [Fact]
    public void A_cell_that_is_there_twice_is_refused()
    {
        JsonNode reading = Sample();
        reading["cells"]!.AsArray().Add(reading["cells"]![0]!.DeepClone());
        Assert.StartsWith("$.cells[1] has the same row and column as cells[0]", Read(reading).Refusal!.Seen, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("planSha256", null)] // another program may not know it
    [InlineData("planSha256", "\"ABCDEFABCDEFABCDEFABCDEFABCDEFABCDEFABCDEFABCDEFABCDEFABCDEFABCD\"")]
    [InlineData("planSha256", "\"ab\"")] // no business of the scoring
    [InlineData("photos.0.widthPx", "0")]
    [InlineData("cells.0.dose.unit", "\"J/mm\"")]
    [InlineData("cells.0.settings.speedMmPerMin", "1500")] // the cell's own setting counts
    [InlineData("cells.0.sides.left.openFraction", "1")]
    [InlineData("cells.0.sides.left.seenFraction", "0")]
    [InlineData("cells.0.darkness.standardError", "0")]
    [InlineData("cells.0.darkness.value", "-3")]
    public void What_is_merely_unusual_is_read(string path, string? value)
    {
        JsonNode reading = Sample();
        Set(reading, path, value is null ? null : JsonNode.Parse(value));
        Assert.Null(Read(reading).Refusal);
    }

    private static JsonNode Sample() => JsonNode.Parse(CardJson.Write(Samples.Reading))!;

    private static Outcome<Reading> Read(JsonNode reading) => CardJson.ReadReading(Encoding.UTF8.GetBytes(reading.ToJsonString()));

    private static void Set(JsonNode root, string path, JsonNode? value)
    {
        string[] steps = path.Split('.');
        JsonNode parent = steps[..^1].Aggregate(root, (node, step) => node is JsonArray list ? list[int.Parse(step)]! : node[step]!);
        parent[steps[^1]] = value;
    }
}
