using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Cli.Tests;

/// <summary>A grey strip from the command that makes it to its page: its photo painted, read by command.</summary>
public sealed class GreysCommandTests
{
    [Fact]
    public void A_strip_is_made_read_and_shown_without_a_word_of_lasers()
    {
        using Scratch scratch = new();
        CliRun made = Cli.Run("greys", "--number", "8", "--out", scratch["strip"]);
        Assert.Equal((0, ""), (made.Code, made.Errors));
        Assert.Contains("Grey strip 8: 8 greys", made.Output, StringComparison.Ordinal);
        PlanFile plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["strip/plan.json"])).Value;
        Scene scene = new() { Plan = plan, Grain = 0.01, Noise = 0.003, Darkness = cell => plan.Plan.Columns.Values[cell.Column] };
        string photo = scratch.Write("strip.jpg", SceneRenderer.Render(scene).ToJpeg(92));

        CliRun run = Cli.Run("read", photo, "--plan", scratch["strip/plan.json"], "--out", scratch["read"]);

        Assert.Equal((0, ""), (run.Code, run.Errors));
        Assert.Contains("A grey strip has no settings", run.Output, StringComparison.Ordinal);
        Assert.Contains("[strip-unknown]", run.Output, StringComparison.Ordinal);
        string page = File.ReadAllText(scratch["read/report.html"]);
        Assert.Contains("Density asked for", page, StringComparison.Ordinal);
        foreach (string foreign in (string[])["mm/min", "0 W", "No setting recommended", "Energy"])
            Assert.DoesNotContain(foreign, page, StringComparison.Ordinal);
        // Row and column, then power, speed, passes and focus, line interval and dose: nothing of it was burned.
        Assert.StartsWith("8,0,0,,,,,,,", File.ReadAllLines(scratch["read/cells.csv"])[1], StringComparison.Ordinal);
        CliRun next = Cli.Run("next", scratch["read/reading.json"], "--out", scratch["next"]);
        Assert.Contains("printed, not burned", next.Errors, StringComparison.Ordinal);
    }
}
