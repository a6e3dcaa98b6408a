using System.Diagnostics;
using System.Text;
using CardScan.Model;
using CardScan.Vision;
using OpenCvSharp;
using Process = CardScan.Model.Process;

namespace CardScan.Benchmarks;

/// <summary>One table in one run: plain decoding, the whole way, and each stage; warm, medians.</summary>
/// <remarks>Processor time stands beside the clock's: on a busy machine the clock counts others' work too.</remarks>
internal static class QuickRun
{
    private const int WarmUps = 5;

    public static string Run(BenchmarkPhoto photo, int rounds)
    {
        Stages stages = new(photo);
        Samples samples = new();
        for (int i = -WarmUps; i < rounds; i++)
        {
            if (i == 0) samples.Clear();

            // Turn by turn, so that a busy machine slows all of them alike.
            samples.Time("plain decode (Cv2.ImDecode)", () => Cv2.ImDecode(photo.Bytes, ImreadModes.Color).Dispose());
            samples.Time("bytes -> recommendation", () => Stages.Score(stages.Read()));
            TimeStages(stages, samples, photo.Plan.Plan.Process);
        }

        return Report(photo, samples, rounds);
    }

    private static void TimeStages(Stages stages, Samples samples, Process process)
    {
        using DecodedPhoto decoded = samples.Time("  decode", stages.Decode);
        MarkerSet found = samples.Time("  find", () => stages.Find(decoded));
        ValueList<RefinedMarker> refined = samples.Time("  refine", () => Stages.Refine(decoded, found));
        SolvedPose solved = samples.Time("  pose", () => stages.Solve(decoded, refined));
        CardSurface surface = Stages.Surface(decoded, solved);
        if (process == Process.Engrave)
        {
            LightField light = samples.Time("  light", () => stages.Light(surface));
            MeasuredCell[] cells = samples.Time("  cells", () => stages.Cells(surface, light, solved));
            samples.Time("  check", () => Stages.Check(decoded, refined, solved, light, cells));
        }
        else
        {
            BackLitView view = samples.Time("  sides", () => stages.Sides(decoded, refined, surface, solved));
            samples.Time("  check", () => stages.CheckSides(surface, view));
        }

        Reading reading = stages.Read();
        samples.Time("  score", () => Stages.Score(reading));
    }

    private static string Report(BenchmarkPhoto photo, Samples samples, int rounds)
    {
        Sample baseline = samples.Medians[0].Median;
        StringBuilder text = new();
        text.AppendLine($"{photo.Name}: {photo.Bytes.Length / 1e6:F2} MB, median of {rounds}, warm; in brackets of the processors' time");
        foreach ((string name, Sample median) in samples.Medians)
            text.AppendLine(
                $"{name,-28} {median.Clock,8:F1} ms ({median.Processor,6:F1})  "
                    + $"{median.Clock / baseline.Clock,6:F2} x decode ({median.Processor / baseline.Processor:F2})  "
                    + $"{median.ManagedMegabytes,7:F2} MB managed");
        return text.ToString();
    }

    /// <summary>One step, once, or the medians of many.</summary>
    /// <param name="Clock">By the clock, ms.</param>
    /// <param name="Processor">Of all processors together, ms.</param>
    /// <param name="ManagedMegabytes">Allocated, managed memory alone.</param>
    private readonly record struct Sample(double Clock, double Processor, double ManagedMegabytes);

    /// <summary>Times by name, in the order of first use.</summary>
    private sealed class Samples
    {
        private readonly OrderedDictionary<string, List<Sample>> _byName = [];

        public IReadOnlyList<(string Name, Sample Median)> Medians =>
            [.. _byName.Select(pair => (pair.Key, new Sample(Median(pair.Value.Select(sample => sample.Clock)),
                Median(pair.Value.Select(sample => sample.Processor)), Median(pair.Value.Select(sample => sample.ManagedMegabytes)))))];

        public void Clear() => _byName.Clear();

        public void Time(string name, Action action) => Time<object?>(name, () =>
        {
            action();
            return null;
        });

        public T Time<T>(string name, Func<T> action)
        {
            long allocated = GC.GetTotalAllocatedBytes(precise: true);
            TimeSpan busy = Environment.CpuUsage.TotalTime;
            long start = Stopwatch.GetTimestamp();
            T result = action();
            double clock = Stopwatch.GetElapsedTime(start).TotalMilliseconds,
                processor = (Environment.CpuUsage.TotalTime - busy).TotalMilliseconds;
            if (!_byName.TryGetValue(name, out List<Sample>? list)) _byName[name] = list = [];
            list.Add(new(clock, processor, (GC.GetTotalAllocatedBytes(precise: true) - allocated) / 1e6));
            return result;
        }

        private static double Median(IEnumerable<double> values)
        {
            double[] sorted = [.. values.Order()];
            return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]) / 2;
        }
    }
}
