using CardScan.Model;
using CardScan.Vision.Tests.BackLight;

namespace CardScan.Robustness;

/// <summary>A cut card's reading against the truth, side by side.</summary>
internal static class CutJudge
{
    /// <summary>
    /// A side called open may hide a bridge in the tenth of its length that need not be seen (docs/method/sides.md); a side of
    /// which less is open than this was called open wrongly.
    /// </summary>
    private const double LeastOpen = 0.9;

    /// <summary>A side called closed of which more is open than this was called closed wrongly.</summary>
    private const double MostClosed = 0.3;

    /// <summary>A kerf's error counts from this many stated errors, and from this width, mm.</summary>
    private const double StatedErrors = 4, LeastKerfErrorMm = 0.1;

    private const double UsefulShare = 0.25;

    public static Verdict Judge(Recipe recipe, Reading reading)
    {
        (SideReading Seen, CutSide True, double LengthMm)[] sides =
            [.. reading.Cells.Select((cell, i) => Sides(cell, recipe.Truth.Cuts[i], recipe.ValueOf(Factors.CellSize)))
                .SelectMany(sides => sides)];
        double share = sides.Length == 0 ? 0 : sides.Count(side => side.Seen.State != SideState.Unseen) / (double)sides.Length;
        Verdict verdict = new() { Recipe = recipe, Outcome = share < UsefulShare ? Outcome.Little : Outcome.Useful, UsableShare = share };
        return verdict.With(WrongSide(sides) ?? WrongSureCut(recipe, reading) ?? WrongKerf(recipe, reading));
    }

    private static Wrong? WrongSide((SideReading Seen, CutSide True, double LengthMm)[] sides)
    {
        int open = sides.Count(side => side.Seen.State == SideState.Open && OpenShare(side.True, side.LengthMm) < LeastOpen);
        int closed = sides.Count(side => side.Seen.State == SideState.Closed && OpenShare(side.True, side.LengthMm) > MostClosed);
        if (open > 0)
            return new("open-though-held", $"{open} of {sides.Length} sides are called open though less than {LeastOpen:P0} of them is");
        return closed > 0
            ? new("closed-though-open",
                $"{closed} of {sides.Length} sides are called closed though more than {MostClosed:P0} of them is open")
            : null;
    }

    private static Wrong? WrongSureCut(Recipe recipe, Reading reading)
    {
        if (reading.Recommendations.FirstOrDefault(one => one.Goal == Goal.SureCut)?.Cell is not { } cell) return null;
        int index = reading.Cells.ToList().FindIndex(one => one.Row == cell.Row && one.Column == cell.Column);
        CutCell cut = recipe.Truth.Cuts[index];
        double least = new[] { cut.Left, cut.Right, cut.Top, cut.Bottom }.Min(side => OpenShare(side, recipe.ValueOf(Factors.CellSize)));
        return least < LeastOpen ? new("sure-cut", $"the sure cut ({cell.Row}, {cell.Column}) has a side that is {least:P0} open") : null;
    }

    private static Wrong? WrongKerf(Recipe recipe, Reading reading)
    {
        return Wrong("x", reading.Kerf?.AcrossXMm, cut => [cut.Left, cut.Right])
            ?? Wrong("y", reading.Kerf?.AcrossYMm, cut => [cut.Top, cut.Bottom]);

        Wrong? Wrong(string axis, Measured? seen, Func<CutCell, CutSide[]> sidesOf)
        {
            CutSide[] open = [.. recipe.Truth.Cuts.SelectMany(sidesOf).Where(side => side.ThroughMm > 0)];
            if (seen is null || open.Length == 0) return null;
            double error = seen.Value - open.Average(side => side.ThroughMm);
            return Math.Abs(error) > Math.Max(StatedErrors * seen.StandardError, LeastKerfErrorMm)
                ? new("kerf", $"the kerf across {axis} is {error:+0.00;-0.00} mm off, stated within {seen.StandardError:F2}")
                : null;
        }
    }

    private static double OpenShare(CutSide side, double lengthMm) =>
        side.ThroughMm == 0 ? 0 : 1 - side.Bridges.Sum(bridge => bridge.LengthMm) / lengthMm;

    private static IEnumerable<(SideReading, CutSide, double)> Sides(CellReading cell, CutCell cut, double lengthMm)
    {
        if (cell.Sides is not { } sides) yield break;
        yield return (sides.Left, cut.Left, lengthMm);
        yield return (sides.Right, cut.Right, lengthMm);
        yield return (sides.Top, cut.Top, lengthMm);
        yield return (sides.Bottom, cut.Bottom, lengthMm);
    }
}
