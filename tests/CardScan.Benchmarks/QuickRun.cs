using System.Diagnostics;
using System.Text;
using CardScan.Model;
using CardScan.Vision;
using OpenCvSharp;
using Process = CardScan.Model.Process;

namespace CardScan.Benchmarks;

/// <summary>One table in one run: plain decoding, the whole way, and each stage; warm, medians.</summary>
internal static class QuickRun
{
    private const int WarmUps = 5;

    public static string Run(BenchmarkPhoto photo, int rounds)
    {
        Stages stages = new(photo);
        bool isEngraved = photo.Plan.Plan.Process == Process.Engrave;
        Samples samples = new();
        for (int i = -WarmUps; i < rounds; i++)
        {
            if (i == 0) samples.Clear();

            // Turn by turn, so that a busy machine slows all of them alike.
            samples.Time("plain decode (Cv2.ImDecode)", () => Cv2.ImDecode(photo.Bytes, ImreadModes.Color).Dispose());
            samples.Time("bytes -> recommendation", () => Stages.Score(stages.Read()));
            if (isEngraved) TimeStages(stages, samples);
        }

        return Report(photo, samples, rounds);
    }

    private static void TimeStages(Stages stages, Samples samples)
    {
        using DecodedPhoto decoded = samples.Time("  decode", stages.Decode);
        MarkerSet found = samples.Time("  find", () => stages.Find(decoded));
        ValueList<RefinedMarker> refined = samples.Time("  refine", () => Stages.Refine(decoded, found));
        SolvedPose solved = samples.Time("  pose", () => stages.Solve(decoded, refined));
        CardSurface surface = Stages.Surface(decoded, solved);
        LightField light = samples.Time("  light", () => stages.Light(surface));
        MeasuredCell[] cells = samples.Time("  cells", () => stages.Cells(surface, light, solved));
        samples.Time("  check", () => Stages.Check(decoded, refined, solved, light, cells));
        Reading reading = stages.Read();
        samples.Time("  score", () => Stages.Score(reading));
    }

    private static string Report(BenchmarkPhoto photo, Samples samples, int rounds)
    {
        double baseline = samples.Medians[0].Milliseconds;
        StringBuilder text = new();
        text.AppendLine($"{photo.Name}: {photo.Bytes.Length / 1e6:F2} MB, median of {rounds}, warm");
        foreach ((string name, double milliseconds, double allocatedMegabytes) in samples.Medians)
            text.AppendLine($"{name,-28} {milliseconds,8:F1} ms  {milliseconds / baseline,6:F2} x decode  {allocatedMegabytes,7:F2} MB managed");
        return text.ToString();
    }

    /// <summary>Times by name, in the order of first use.</summary>
    private sealed class Samples
    {
        private readonly OrderedDictionary<string, List<(double Milliseconds, double Megabytes)>> _byName = [];

        public IReadOnlyList<(string Name, double Milliseconds, double Megabytes)> Medians =>
            [.. _byName.Select(pair => (pair.Key, Median(pair.Value.Select(sample => sample.Milliseconds)), Median(pair.Value.Select(sample => sample.Megabytes))))];

        public void Clear() => _byName.Clear();

        public void Time(string name, Action action) => Time<object?>(name, () =>
        {
            action();
            return null;
        });

        public T Time<T>(string name, Func<T> action)
        {
            long allocated = GC.GetTotalAllocatedBytes(precise: true), start = Stopwatch.GetTimestamp();
            T result = action();
            double milliseconds = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
            if (!_byName.TryGetValue(name, out List<(double, double)>? list)) _byName[name] = list = [];
            list.Add((milliseconds, (GC.GetTotalAllocatedBytes(precise: true) - allocated) / 1e6));
            return result;
        }

        private static double Median(IEnumerable<double> values)
        {
            double[] sorted = [.. values.Order()];
            return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]) / 2;
        }
    }
}
