using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

/// <summary>The table of the next-card study, a row a law, and the first card's size.</summary>
internal static class NextTables
{
    /// <summary>A planned card is to leave at most this share of the doubt that burning the first again leaves.</summary>
    private const double MostOfAgain = 0.6;

    /// <summary>Realised over announced half width is to lie within this of 1.</summary>
    private const double MostFromAnnounced = 0.3;

    private static readonly double HalfWidthOfDeviation = Normal.InvCDF(0, 1, 0.975);

    public static IEnumerable<FigureTable> Of(IReadOnlyCollection<(SizedLaw Law, NextResult?[] Cards)> results)
    {
        foreach (Process process in new[] { Process.Engrave, Process.Cut })
        {
            (SizedLaw Law, NextResult?[] Cards)[] some = [.. results.Where(one => one.Law.Law.Process == process)];
            if (some.Length == 0) continue;
            yield return new(
                $"{(process == Process.Engrave ? "Engraved" : "Cut")} cards: half width of the limit at the planned speed, "
                    + "percent of power, means",
                [
                    "cards", "first cards", "with a plan that says what it tells", "limit stated thrice",
                    "after one", "with the planned card", "with the first again", "planned over again",
                    "1.96 RMS errors: planned", "again", "planned over again", "announced", "stated over announced",
                    "errors over announced", "aims missed",
                ],
                [
                    .. some.GroupBy(one => $"all laws, {one.Law.Size}").Select(Row),
                    .. some.GroupBy(one => one.Law.Law.Name).Select(Row),
                ]);
        }
    }

    private static string[] Row(IGrouping<string, (SizedLaw Law, NextResult?[] Cards)> group)
    {
        NextResult?[] all = [.. group.SelectMany(one => one.Cards)];
        NextResult[] planned = [.. all.OfType<NextResult>()], some = [.. planned.Where(one => one.IsComplete)];
        double before = Mean(some, one => one.Before!), after = Mean(some, one => one.Planned!), again = Mean(some, one => one.Again!);
        double errors = Errors(some, one => one.Planned!), errorsAgain = Errors(some, one => one.Again!);
        double announced = some.Length == 0 ? double.NaN : some.Average(one => one.AnnouncedPercent);
        return
        [
            group.Key, $"{all.Length}", $"{planned.Length}", $"{some.Length}", Number(before), Number(after), Number(again),
            Ratio(after / again),
            Number(errors), Number(errorsAgain), Ratio(errors / errorsAgain),
            Number(announced), Ratio(after / announced), Ratio(errors / announced),
            string.Join(", ", Missed(after / again, after / announced)),
        ];
    }

    private static IEnumerable<string> Missed(double ofAgain, double ofAnnounced)
    {
        if (ofAgain > MostOfAgain) yield return "**teaches little**";
        if (Math.Abs(ofAnnounced - 1) > MostFromAnnounced) yield return "**announced wrongly**";
    }

    private static double Mean(NextResult[] some, Func<NextResult, KnownLimit> limitOf) =>
        some.Length == 0 ? double.NaN : 100 * some.Average(one => limitOf(one).HalfWidth);

    /// <summary>As a half width of 95 %: 1.96 root mean squares of the true errors.</summary>
    private static double Errors(NextResult[] some, Func<NextResult, KnownLimit> limitOf)
    {
        double[] errors = [.. some.Select(one => limitOf(one).Error).OfType<double>()];
        return errors.Length == 0 ? double.NaN : 100 * HalfWidthOfDeviation * Math.Sqrt(errors.Average(error => error * error));
    }

    private static string Number(double value) => double.IsNaN(value) ? "–" : $"{value:0.0}";

    private static string Ratio(double value) => double.IsNaN(value) ? "–" : $"{value:0.00}";
}
