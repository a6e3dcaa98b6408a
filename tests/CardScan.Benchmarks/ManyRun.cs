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
        ValueList<string> photos = PhotoPaths.Of([folder]).Value;
        ValueList<string> plans = Directory.GetFiles(folder, "*plan*.json").Order(StringComparer.Ordinal).ToValueList();
        byte[][] bytes = [.. photos.Select(File.ReadAllBytes)];
        List<double> decoding = [], reading = [];
        ReadCardsResult result = null!;
        for (int i = -WarmUps; i < rounds; i++)
        {
            double decode = Time(() => Parallel.ForEach(bytes, new() { MaxDegreeOfParallelism = Environment.ProcessorCount }, photo => Cv2.ImDecode(photo, ImreadModes.Color).Dispose()));
            double read = Time(() => result = ReadCards.Run(new() { Photos = photos }, plans).Value);
            if (i < 0) continue;
            decoding.Add(decode);
            reading.Add(read);
        }

        double decoded = Median(decoding), whole = Median(reading);
        return $"""
            {photos.Count} photos, {result.Cards.Count} cards, {result.Refused.Count} refused, {Environment.ProcessorCount} cores, median of {rounds}, warm
            plain decoding on all cores   {decoded,8:F0} ms  {1000 * photos.Count / decoded,6:F1} photos/s
            bytes to settings of all      {whole,8:F0} ms  {1000 * photos.Count / whole,6:F1} photos/s  {100 * decoded / whole:F0} % of the decoding rate
            peak memory of the process    {System.Diagnostics.Process.GetCurrentProcess().PeakWorkingSet64 / 1e6,8:F0} MB

            """;
    }

    private static double Time(Action work)
    {
        long start = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
