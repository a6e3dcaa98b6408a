using System.Diagnostics;
using System.Text;
using CardScan.Calibration;
using CardScan.Model;
using CardScan.Scoring;
using Process = CardScan.Model.Process;

namespace CardScan.Benchmarks;

/// <summary>How the time to score a card grows with its cells: warm medians over simulated cards of the scoring's own laws.</summary>
/// <remarks>Processor time stands beside the clock's: on a busy machine the clock counts others' work too.</remarks>
internal static class ScoreGrowth
{
    private const int Cards = 12, WarmUps = 2;

    public static string Run(int rounds)
    {
        (StudyCase Study, Reading[] Readings, List<(double Clock, double Processor)> Milliseconds)[] sizes =
        [
            .. from process in new[] { Process.Engrave, Process.Cut }
               from side in StudyCase.Sides
               let study = new StudyCase(process, process == Process.Engrave ? MarkLaws.Saturating : SideLaws.Logistic, side, 2,
                   "middling", Disturbance.None)
               select (study, ReadingsOf(study), new List<(double, double)>()),
        ];
        for (int round = -WarmUps; round < rounds; round++)
        {
            // Turn by turn, so that a busy machine slows all sizes alike.
            foreach ((_, Reading[] readings, var milliseconds) in sizes)
            {
                TimeSpan busy = Environment.CpuUsage.TotalTime;
                long start = Stopwatch.GetTimestamp();
                foreach (Reading reading in readings) CardScorer.Score(reading, ScoringOptions.Default);
                double clock = Stopwatch.GetElapsedTime(start).TotalMilliseconds,
                    processor = (Environment.CpuUsage.TotalTime - busy).TotalMilliseconds;
                if (round >= 0) milliseconds.Add((clock / readings.Length, processor / readings.Length));
            }
        }

        return Report(sizes, rounds);
    }

    private static Reading[] ReadingsOf(StudyCase study) =>
        [.. Enumerable.Range(1, Cards).Select(seed => new Chance(seed)).Select(chance => study.Draw(chance).Read(chance))];

    private static string Report(
        (StudyCase Study, Reading[] Readings, List<(double Clock, double Processor)> Milliseconds)[] sizes, int rounds)
    {
        StringBuilder text = new();
        text.AppendLine($"time to score a card, ms: mean over {Cards} simulated cards, median of {rounds} rounds, warm");
        foreach (var process in sizes.GroupBy(size => size.Study.Process))
        {
            double first = Median(process.First().Milliseconds.Select(time => time.Processor));
            foreach ((StudyCase study, _, var milliseconds) in process)
            {
                double clock = Median(milliseconds.Select(time => time.Clock)),
                    processor = Median(milliseconds.Select(time => time.Processor));
                text.AppendLine(
                    $"{study.Process.ToString().ToLowerInvariant(),-8} {study.Side,3} x {study.Side,-3} {study.Side * study.Side,4} cells  "
                        + $"clock {clock,8:F2}  processor {processor,8:F2}  {processor / first,6:F1} x the smallest");
            }
        }

        return text.ToString();
    }

    private static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
