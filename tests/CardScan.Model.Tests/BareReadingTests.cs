using System.Text;

namespace CardScan.Model.Tests;

/// <summary>A reading of another program, which writes what it must and nothing else.</summary>
public sealed class BareReadingTests
{
    private const string Bare = """
        { "format": "cardscan-reading/1",
          "plan": { "format": "cardscan-plan/1", "number": 3, "process": "cut", "material": { "name": "lime" },
            "machine": { "name": "bench", "ratedOpticalWatts": 10 }, "card": { "widthMm": 80, "heightMm": 80 },
            "fiducials": { "dictionary": "DICT_6X6_1000", "sideMm": 10,
              "markers": [ { "id": 12, "xMm": 4, "yMm": 4 }, { "id": 13, "xMm": 66, "yMm": 4 },
                { "id": 14, "xMm": 66, "yMm": 66 }, { "id": 15, "xMm": 4, "yMm": 66 } ] },
            "columns": { "setting": "powerPercent", "values": [50] }, "rows": { "setting": "speedMmPerMin", "values": [200] },
            "cells": [ { "row": 0, "column": 0, "xMm": 36, "yMm": 36, "widthMm": 8, "heightMm": 8 } ] },
          "cells": [ { "row": 0, "column": 0, "settings": { "powerPercent": 50, "speedMmPerMin": 200 } } ] }
        """;

    [Fact]
    public void What_may_be_absent_has_its_usual_value()
    {
        Outcome<Reading> read = CardJson.ReadReading(Encoding.UTF8.GetBytes(Bare));

        Assert.Null(read.Refusal);
        Reading reading = read.Value;
        Assert.Equal(("", 1, 0.0), (reading.Plan.Title, reading.Cells[0].Settings.Passes, reading.Cells[0].Settings.FocusOffsetMm));
        Assert.Equal(new FixedSettings(), reading.Plan.Fixed);
        Assert.Empty(reading.Cells[0].Flags);
        Assert.Empty(reading.Photos);
        Assert.Empty(reading.Recommendations);
        Assert.Empty(reading.Advice);
    }

    [Fact]
    public void It_survives_being_written_and_read_again()
    {
        Reading reading = CardJson.ReadReading(Encoding.UTF8.GetBytes(Bare)).Value;

        Assert.Equal(reading, CardJson.ReadReading(Encoding.UTF8.GetBytes(CardJson.Write(reading))).Value);
    }
}
