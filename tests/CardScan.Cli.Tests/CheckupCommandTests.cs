using System.Text.Json;
using System.Text.RegularExpressions;

namespace CardScan.Cli.Tests;

public partial class CheckupCommandTests
{
    [Fact]
    public void Everything_that_a_reading_needs_is_tried()
    {
        using Scratch scratch = new();
        HostEnvironment surroundings = Cli.In(scratch["."]) with { Browser = "/bin/sh", LocalAddress = () => new([192, 168, 1, 20]) };
        CliRun run = Cli.Run(surroundings, ["checkup"]);
        Assert.True(run.Code == 0, run.Output);
        string[] lines = run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal("CardScan can do its work here.", lines[^1]);
        Assert.All(lines[..^1], line => Assert.StartsWith("good    ", line, StringComparison.Ordinal));
        foreach (string name in (string[])["CardScan 0.1.0", "OpenCV loads: 4.", "Skia loads: ", "ImageMagick loads: 7", "SQLite loads: 3.",
            "was read in", "No archive yet", "0 profiles", "free in", "/bin/sh opens the page.",
            "reach this computer at 192.168.1.20"])
            Assert.Contains(lines, line => line.Contains(name, StringComparison.Ordinal));
    }

    [Fact]
    public void A_damaged_archive_is_broken_and_a_missing_browser_or_network_is_not()
    {
        using Scratch scratch = new();
        Directory.CreateDirectory(scratch["archive"]);
        File.WriteAllText(Path.Combine(scratch["archive"], "archive.db"), new string('x', 4096));
        CliRun run = Cli.Run(Cli.In(scratch["."]) with { Browser = "no-such-browser" }, ["checkup", "--json"]);
        Assert.Equal(1, run.Code);
        using JsonDocument json = JsonDocument.Parse(run.Output);
        JsonElement[] parts = [.. json.RootElement.GetProperty("parts").EnumerateArray()];
        JsonElement archive = parts.First(part => part.GetProperty("part").GetString() == "archive");
        JsonElement browser = parts.Single(part => part.GetProperty("part").GetString() == "browser");
        Assert.Equal("broken", archive.GetProperty("state").GetString());
        Assert.Equal("look", browser.GetProperty("state").GetString());
        JsonElement network = parts.Single(part => part.GetProperty("part").GetString() == "network");
        Assert.Equal("look", network.GetProperty("state").GetString());
        Assert.Equal("no-private-address", network.GetProperty("code").GetString());
        Assert.Equal("browser-missing", browser.GetProperty("code").GetString());
    }

    [Fact]
    public void The_archive_that_is_there_is_counted()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan).Code);
        Assert.Contains("1 card in the archive", Cli.RunIn(scratch["."], "checkup").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_version_tells_build_runtime_and_native_parts()
    {
        string[] lines = Cli.Run("--version").Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(3, lines.Length);
        Assert.Matches(FirstLine(), lines[0]);
        Assert.StartsWith(".NET 10.", lines[1], StringComparison.Ordinal);
        Assert.Contains("OpenCvSharp 4.", lines[2], StringComparison.Ordinal);
        Assert.Contains("Microsoft.Data.Sqlite ", lines[2], StringComparison.Ordinal);
    }

    [GeneratedRegex(@"^cardscan \d+\.\d+\.\d+( \([0-9a-f]{7}\))?$")]
    private static partial Regex FirstLine();
}
