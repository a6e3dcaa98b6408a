using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Workflow.Tests;

public class ExportArchiveTests
{
    /// <summary>An archive may hold more than fits into memory.</summary>
    [Fact]
    public void Every_reading_is_written_before_the_next_is_asked_for()
    {
        Reading reading = BurnedCards.Reading(BurnedCards.Plan(1));
        using MemoryStream stream = new();
        List<long> written = [];
        ExportArchive.Json(stream, Enumerable.Range(0, 4).Select(i =>
        {
            written.Add(stream.Length);
            return new NamedReading($"r{i}", DateTimeOffset.UnixEpoch, reading);
        }));
        long[] pieces = [.. written.Zip(written.Skip(1), (before, after) => after - before)];
        Assert.Equal(3, pieces.Length);
        Assert.All(pieces, piece => Assert.True(piece >= CardJson.Write(reading).Length / 2, $"{piece} bytes"));
    }
}
