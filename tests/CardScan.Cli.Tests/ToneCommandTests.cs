using System.Text;
using CardScan.Model;

namespace CardScan.Cli.Tests;

public sealed class ToneCommandTests
{
    [Fact]
    public void Tones_are_printed_written_and_carried_by_a_saved_reading()
    {
        using Scratch scratch = new();
        string saved = scratch.Write("reading.json", Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Output);

        string[] lines = Cli.Run("score", saved, "--tones", "5", "--at-speed", "3300").Output.Split('\n');
        int heading = Array.IndexOf(lines, "tone\tspeed mm/min\tpower %\tL*\tfrom\tto");
        Assert.All(lines[(heading + 1)..(heading + 6)], line => Assert.Equal("3300", line.Split('\t')[1]));
        double[] lightness = [.. lines[(heading + 1)..(heading + 6)].Select(line => double.Parse(line.Split('\t')[3]))];
        Assert.All(
            lightness.Zip(lightness.Skip(1)), pair => Assert.Equal((lightness[4] - lightness[0]) / 4, pair.Second - pair.First, 0.11));

        Reading reading = CardJson.ReadReading(
            Encoding.UTF8.GetBytes(Cli.Run("score", saved, "--tones", "5", "--at-power", "80", "--json").Output)).Value;
        Assert.Equal(Setting.SpeedMmPerMin, reading.Tones!.Setting);
        Assert.All(reading.Tones.Steps, step => Assert.Equal(80, step.PowerPercent));
    }

    [Theory]
    [InlineData("Give a whole number from 2 to 64", "--tones", "1")]
    [InlineData("Give their number with --tones", "--at-speed", "3300")]
    [InlineData("cannot be used together", "--tones", "5", "--at-speed", "3300", "--at-power", "80")]
    public void A_request_that_makes_no_sense_is_told_in_one_line(string says, params string[] options)
    {
        CliRun run = Cli.Run(["score", "reading.json", .. options]);

        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
        Assert.Empty(run.Output);
    }
}
