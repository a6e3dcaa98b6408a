using System.Diagnostics;
using CardScan.Model;
using CardScan.Workflow;
using OpenCvSharp;

namespace CardScan.Benchmarks;

/// <summary>Many photos of several cards against plain decoding of the same photos on all cores.</summary>
internal static class ManyRun
{
    private const int WarmUps = 2;

    /// <summary>Reads the photos of a folder with the plans beside them.</summary>
    /// <param name="folder">Photos, and plans whose names hold "plan" and end with ".json".</param>
    /// <param name="rounds">Rounds whose median counts.</param>
    public static string Run(string folder, int rounds)
    {
        ValueList<string> photos = PhotoPaths.Of([folder]).Value.Paths;
        ValueList<string> plans = Directory.GetFiles(folder, "*plan*.json").Order(StringComparer.Ordinal).ToValueList();
        byte[][] bytes = [.. photos.Select(File.ReadAllBytes)];
        List<Spent> decoding = [], reading = [];
        ReadCardsResult result = null!;
        for (int i = -WarmUps; i < rounds; i++)
        {
            Spent decode = Time(() => Parallel.ForEach(bytes, new() { MaxDegreeOfParallelism = Environment.ProcessorCount },
                photo => Cv2.ImDecode(photo, ImreadModes.Color).Dispose()));
            Spent read = Time(() => result = ReadCards.Run(new() { Photos = photos, Plans = plans }).Value);
            if (i < 0) continue;
            decoding.Add(decode);
            reading.Add(read);
        }

        Spent decoded = Median(decoding), whole = Median(reading);
        return $"{photos.Count} photos, {result.Cards.Count} cards, {result.Refused.Count} refused, "
            + $"{Environment.ProcessorCount} cores, median of {rounds}, warm\n"
            + $"plain decoding on all cores   {decoded.Clock,8:F0} ms  {1000 * photos.Count / decoded.Clock,6:F1} photos/s  "
            + $"{decoded.Processor,8:F0} ms of the processors\n"
            + $"bytes to settings of all      {whole.Clock,8:F0} ms  {1000 * photos.Count / whole.Clock,6:F1} photos/s  "
            + $"{whole.Processor,8:F0} ms of the processors\n"
            + $"share of the decoding rate    {100 * decoded.Clock / whole.Clock,8:F0} % by the clock, "
            + $"{100 * decoded.Processor / whole.Processor:F0} % by the processors' time\n"
            + $"peak memory of the process    {System.Diagnostics.Process.GetCurrentProcess().PeakWorkingSet64 / 1e6,8:F0} MB\n";
    }

    private static Spent Time(Action work)
    {
        using System.Diagnostics.Process own = System.Diagnostics.Process.GetCurrentProcess();
        TimeSpan before = own.TotalProcessorTime;
        long start = Stopwatch.GetTimestamp();
        work();
        double clock = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        own.Refresh();
        return new(clock, (own.TotalProcessorTime - before).TotalMilliseconds);
    }

    private static Spent Median(List<Spent> values) =>
        new(Median(values.Select(spent => spent.Clock)), Median(values.Select(spent => spent.Processor)));

    private static double Median(IEnumerable<double> values) => values.Order().ElementAt(values.Count() / 2);

    /// <summary>What one round took.</summary>
    /// <param name="Clock">By the clock, ms.</param>
    /// <param name="Processor">Of all processors together, ms: says something on a busy machine too.</param>
    private readonly record struct Spent(double Clock, double Processor);
}
