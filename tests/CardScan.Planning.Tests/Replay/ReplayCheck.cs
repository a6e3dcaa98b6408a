using CardScan.Model;

namespace CardScan.Planning.Tests;

/// <summary>Holds a program that was run against the plan that it was written for; knows nothing of the writer.</summary>
internal sealed class ReplayCheck
{
    private const double ToleranceMm = 0.01;

    private readonly Plan _plan;
    private readonly NgcRun _run;
    private readonly (double X, double Y, double Width, double Height) _frame;

    private ReplayCheck(Plan plan, string program)
    {
        (_plan, _run) = (plan, NgcReader.Run(program));
        _frame = plan.Frame?.Window is { } window
            ? (window.XMm, window.YMm, window.WidthMm, window.HeightMm)
            : (0, 0, plan.Card.WidthMm, plan.Card.HeightMm);
    }

    internal static NgcRun Holds(Plan plan, string program)
    {
        ReplayCheck check = new(plan, program);
        check.IsSafe();
        check.BurnsThePlan();
        check.TakesTheTime();
        return check._run;
    }

    private void IsSafe()
    {
        Machine machine = _plan.Machine;
        Assert.True(_run.HasEnded && _run.ModeAtEnd == 5, "the beam is not off at the end");
        Assert.All(_run.Pauses, pause => Assert.Equal(5, pause.Mode));
        foreach (NgcMotion motion in _run.Motions)
        {
            Assert.True(
                motion.To.X >= -1e-9 && motion.To.Y >= -1e-9 && motion.To.X <= machine.WorkArea!.WidthMm + 1e-9
                    && motion.To.Y <= machine.WorkArea.HeightMm + 1e-9,
                $"{motion} leaves the work area");
            Assert.True(!motion.IsRapid || motion.Mode == 5, $"{motion} travels with the beam on");
            Assert.True(motion.IsRapid || motion.FeedMmPerMin <= machine.FastestFeedMmPerMin + 1e-6, $"{motion} is too fast");
            Assert.True(motion.S <= machine.FullPowerS + 1e-9, $"{motion} has too much power");
            if (motion.IsBurning) Assert.Equal(machine.BeamMode == BeamMode.FollowsSpeed ? 4 : 3, motion.Mode);
            if (machine.BeamMode == BeamMode.FromRest)
                Assert.True(motion.IsBurning || motion.Mode == 5, $"{motion} runs with the beam at 0");
            if (machine.PoweredZ is { } travel) Assert.InRange(motion.To.Z, travel.LowestMm, travel.HighestMm);
            else Assert.Equal(0, motion.To.Z);
        }
    }

    private void BurnsThePlan()
    {
        List<NgcMotion> burns = [.. _run.Motions.Where(motion => motion.IsBurning).Select(Seen)];
        foreach (Cell cell in _plan.Cells) CheckCell(cell, Take(burns, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm));
        if (_plan.Frame is null)
        {
            foreach (Marker marker in _plan.Fiducials.Markers)
                CheckMarker(marker, Take(burns, marker.XMm, marker.YMm, _plan.Fiducials.SideMm, _plan.Fiducials.SideMm));
        }

        CheckLabels(burns);
    }

    private void CheckCell(Cell cell, List<NgcMotion> burns)
    {
        CellSettings settings = _plan.SettingsOf(cell);
        Assert.NotEmpty(burns);
        double step = _plan.Fixed.FocusStepMm ?? 0;
        IEnumerable<double> focus = Enumerable.Range(0, settings.Passes).Select(pass => settings.FocusOffsetMm - pass * step).Distinct();
        Assert.Equal(
            _plan.Machine.PoweredZ is null ? [0] : focus.Select(mm => Math.Round(mm, 3)),
            burns.Select(burn => Math.Round(burn.From.Z, 3)).Distinct());
        double joules = burns.Sum(burn =>
            burn.S / _plan.Machine.FullPowerS!.Value * _plan.Machine.RatedOpticalWatts * burn.LengthMm / (burn.FeedMmPerMin / 60));
        if (cell.Lines is { } lines) CheckLines(lines, settings, burns, joules);
        else if (_plan.Process == Process.Cut) CheckOutline(cell, settings, burns, joules);
        else CheckFill(cell, settings, burns, joules);
    }

    private void CheckFill(Cell cell, CellSettings settings, List<NgcMotion> burns, double joules)
    {
        Assert.All(burns, burn =>
        {
            Assert.Equal(burn.From.Y, burn.To.Y, 1e-9);
            Assert.Equal(cell.XMm, Math.Min(burn.From.X, burn.To.X), ToleranceMm);
            Assert.Equal(cell.XMm + cell.WidthMm, Math.Max(burn.From.X, burn.To.X), ToleranceMm);
        });
        double[] lines = [.. burns.Select(burn => Math.Round(burn.From.Y, 4)).Distinct().Order()];
        Assert.Equal(lines.Length * settings.Passes, burns.Count);
        double interval = cell.HeightMm / lines.Length;
        Assert.Equal(settings.LineIntervalMm!.Value, interval, settings.LineIntervalMm.Value * 0.005);
        for (int i = 0; i < lines.Length; i++) Assert.Equal(cell.YMm + (i + 0.5) * interval, lines[i], ToleranceMm);
        Same(settings.DoseOf(Process.Engrave, _plan.Machine.RatedOpticalWatts)!.Value, joules / (cell.WidthMm * cell.HeightMm));
    }

    private void CheckOutline(Cell cell, CellSettings settings, List<NgcMotion> burns, double joules)
    {
        double right = cell.XMm + cell.WidthMm, bottom = cell.YMm + cell.HeightMm;
        Tab[] tabs = [.. cell.Tabs ?? []];
        double length = 2 * (cell.WidthMm + cell.HeightMm) - tabs.Sum(tab => tab.LengthMm);
        Assert.Equal(length * settings.Passes, burns.Sum(burn => burn.LengthMm), ToleranceMm * (4 + tabs.Length) * settings.Passes);
        foreach (NgcMotion burn in burns)
        {
            CellSide side = Near(burn.From.X, cell.XMm) && Near(burn.To.X, cell.XMm) ? CellSide.Left
                : Near(burn.From.X, right) && Near(burn.To.X, right) ? CellSide.Right
                : Near(burn.From.Y, cell.YMm) && Near(burn.To.Y, cell.YMm) ? CellSide.Top
                : Near(burn.From.Y, bottom) && Near(burn.To.Y, bottom) ? CellSide.Bottom
                : throw new Xunit.Sdk.XunitException($"{burn} is not on the outline");
            (double a, double b) = side is CellSide.Top or CellSide.Bottom
                ? (burn.From.X - cell.XMm, burn.To.X - cell.XMm)
                : (burn.From.Y - cell.YMm, burn.To.Y - cell.YMm);
            Assert.All(tabs.Where(tab => tab.Side == side), tab => Assert.True(
                Math.Max(a, b) <= tab.AtMm - tab.LengthMm / 2 + ToleranceMm || Math.Min(a, b) >= tab.AtMm + tab.LengthMm / 2 - ToleranceMm,
                $"{burn} cuts a tab"));
        }

        Same(settings.DoseOf(Process.Cut, _plan.Machine.RatedOpticalWatts)!.Value, joules / length);
    }

    private void CheckLines(ValueList<BurnedLine> lines, CellSettings settings, List<NgcMotion> burns, double joules)
    {
        Assert.Equal(lines.Count * settings.Passes, burns.Count);
        foreach (BurnedLine line in lines)
        {
            Assert.Equal(settings.Passes, burns.Count(burn =>
                Near(burn.From.X, line.FromXMm) && Near(burn.From.Y, line.FromYMm)
                && Near(burn.To.X, line.ToXMm) && Near(burn.To.Y, line.ToYMm)));
        }

        double length = lines.Sum(line => Math.Abs(line.ToXMm - line.FromXMm) + Math.Abs(line.ToYMm - line.FromYMm));
        Same(settings.DoseOf(Process.Cut, _plan.Machine.RatedOpticalWatts)!.Value, joules / length);
    }

    /// <summary>Burned modules are covered from edge to edge, bare ones not at all.</summary>
    private void CheckMarker(Marker marker, List<NgcMotion> burns)
    {
        double module = _plan.Fiducials.SideMm / 8;
        for (int row = 0; row < 8; row++)
        {
            double top = marker.YMm + row * module;
            List<NgcMotion> lines = [.. burns.Where(burn => burn.From.Y > top && burn.From.Y < top + module)];
            int count = lines.Select(line => Math.Round(line.From.Y, 4)).Distinct().Count();
            for (int column = 0; column < 8; column++)
            {
                double left = marker.XMm + column * module;
                double burned = lines.Sum(line => Math.Max(
                    0, Math.Min(left + module, Math.Max(line.From.X, line.To.X)) - Math.Max(left, Math.Min(line.From.X, line.To.X))));
                Assert.Equal(MarkerPattern.IsBurned(marker.Id, row, column) ? module : 0, burned / count, ToleranceMm);
            }

            // Line bands fill the module: the first line stands half an interval below its upper edge.
            double[] ys = [.. lines.Select(line => line.From.Y).Distinct().Order()];
            Assert.Equal(top + module / count / 2, ys[0], ToleranceMm);
            Assert.Equal(top + module - module / count / 2, ys[^1], ToleranceMm);
        }
    }

    /// <summary>What is left are the labels of the drawing, every line of them once and nothing else.</summary>
    private void CheckLabels(List<NgcMotion> burns)
    {
        List<(double X1, double Y1, double X2, double Y2)> drawn = [.. DrawnLabels.Of(CardPlanner.DrawSvg(_plan))];
        Assert.Equal(drawn.Count, burns.Count);
        foreach ((NgcMotion burn, (double X1, double Y1, double X2, double Y2) line) in burns.Zip(drawn))
            Assert.True(Near(burn.From.X, line.X1) && Near(burn.From.Y, line.Y1) && Near(burn.To.X, line.X2) && Near(burn.To.Y, line.Y2),
                $"{burn} is not the drawn line {line}");
        Assert.All(burns, burn => Same(_plan.Burning!.Marks.PowerPercent / 100, burn.S / _plan.Machine.FullPowerS!.Value));
    }

    private void TakesTheTime()
    {
        double seconds = ReplayTime.Of(_run.Motions, _plan.Machine) + _run.DwellsS.Sum() + 30 * _run.Pauses.Count;
        double estimate = CardPlanner.Estimate(_plan).Seconds;
        Assert.True(Math.Abs(estimate / seconds - 1) < 0.05, $"estimated {estimate:F1} s, replayed {seconds:F1} s");
    }

    /// <summary>The same move in the card frame.</summary>
    private NgcMotion Seen(NgcMotion motion) => motion with { From = Seen(motion.From), To = Seen(motion.To) };

    private Spot Seen(Spot spot) => new(_frame.X + spot.X, _frame.Y + _frame.Height - spot.Y, spot.Z);

    private static List<NgcMotion> Take(List<NgcMotion> burns, double x, double y, double width, double height)
    {
        List<NgcMotion> inside = [.. burns.Where(burn => IsIn(burn.From) && IsIn(burn.To))];
        burns.RemoveAll(burn => IsIn(burn.From) && IsIn(burn.To));
        return inside;

        bool IsIn(Spot spot) => spot.X >= x - ToleranceMm && spot.X <= x + width + ToleranceMm
            && spot.Y >= y - ToleranceMm && spot.Y <= y + height + ToleranceMm;
    }

    private static bool Near(double a, double b) => Math.Abs(a - b) <= ToleranceMm;

    private static void Same(double planned, double burned) => Assert.Equal(1, burned / planned, 0.005);
}
