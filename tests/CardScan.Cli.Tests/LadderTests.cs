using System.Text.Json;
using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Cli.Tests;

/// <summary>A focus ladder from the plan to the best offset: planned by command, its photo painted, read by command.</summary>
public sealed class LadderTests
{
    [Theory]
    [InlineData(0.4, 0.0, 0.8)]
    [InlineData(-0.3, 12.0, 1.1)]
    public void A_planned_ladder_is_read_to_its_best_focus_and_beam(double bestMm, double tiltDeg, double blurPx)
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run(
            "plan", "--kind", "focus-ladder", "--material", "birch plywood", "--watts", "10", "--power", "30,50,80", "--speed", "2000",
            "--focus-offset=-2:2:7", "--number", "9", "--out", scratch["card"]).Code);
        byte[] planJson = File.ReadAllBytes(Path.Combine(scratch["card"], "plan.json"));
        PlanFile plan = CardJson.ReadPlan(planJson).Value;
        string photo = scratch.Write("ladder.jpg", SceneRenderer.Render(Photo(plan, bestMm, tiltDeg, blurPx)).ToJpeg(92));

        CliRun run = Cli.Run("read", photo, "--plan", Path.Combine(scratch["card"], "plan.json"), "--out", scratch["report"]);

        Assert.Equal(0, run.Code);
        Assert.Contains("Best focus", run.Output, StringComparison.Ordinal);
        Reading reading = CardJson.ReadReading(File.ReadAllBytes(Path.Combine(scratch["report"], "reading.json"))).Value;
        foreach ((FocusAxis? axis, double beamMm) in new[] { (reading.Focus!.AcrossX, 0.24), (reading.Focus.AcrossY, 0.18) })
        {
            Assert.InRange(bestMm, axis!.BestOffset!.Low, axis.BestOffset.High);
            Assert.InRange(axis.BestOffset.High - axis.BestOffset.Low, 0, 0.8);
            Assert.InRange(beamMm, axis.Beam!.Low, axis.Beam.High);
        }

        string page = File.ReadAllText(Path.Combine(scratch["report"], "report.html"));
        Assert.Contains("Line width across x over focus offset", page, StringComparison.Ordinal);
        Assert.StartsWith("card,", File.ReadAllText(Path.Combine(scratch["report"], "cells.csv")), StringComparison.Ordinal);
        Assert.Contains("line width across x (mm)", File.ReadAllText(Path.Combine(scratch["report"], "cells.csv")),
            StringComparison.Ordinal);

        CliRun again = Cli.Run("score", Path.Combine(scratch["report"], "reading.json"), "--json");
        using JsonDocument scored = JsonDocument.Parse(again.Output);
        Assert.Equal(reading.Focus.OffsetMm, scored.RootElement.GetProperty("focus").GetProperty("offsetMm").GetDouble());
    }

    /// <summary>
    /// A Gaussian beam, 0.24 mm wide across x and 0.18 mm across y; W² = 2w² ln(F/F_th), F = √(2/π) E/w (J. M. Liu,
    /// Opt. Lett. 7 (1982) 196).
    /// </summary>
    private static Scene Photo(PlanFile file, double bestMm, double tiltDeg, double blurPx)
    {
        Plan plan = file.Plan;
        TestCamera camera =
            new() { WidthPx = 2400, HeightPx = 1800, AimMm = (plan.Card.WidthMm / 2, plan.Card.HeightMm / 2), TiltDeg = tiltDeg };
        double distance = 1.15 * camera.FocalPx * Math.Max(plan.Card.WidthMm / camera.WidthPx, plan.Card.HeightMm / camera.HeightPx);
        return new()
        {
            Plan = file,
            Camera = camera with { DistanceMm = distance },
            Darkness = _ => 0.5,
            LineWidthMm = (cell, line) =>
            {
                CellSettings settings = plan.SettingsOf(cell);
                double waist = line.FromXMm == line.ToXMm ? 0.12 : 0.09;
                double w = waist * Math.Sqrt(1 + Math.Pow((settings.FocusOffsetMm - bestMm) / (waist / 0.08), 2));
                double over = Math.Log(Math.Sqrt(2 / Math.PI) * plan.DoseOf(settings)!.Value / (w * 0.1));
                return over > 0 ? w * Math.Sqrt(2 * over) : 0;
            },
            BlurPx = blurPx,
            Noise = 0.004,
        };
    }
}
