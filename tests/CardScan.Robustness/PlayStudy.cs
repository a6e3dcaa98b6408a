using System.Globalization;
using CardScan.Model;
using CardScan.Vision;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>Play that is found, missed, or told where there is none: photos of cards burned stroke by stroke.</summary>
internal static class PlayStudy
{
    private static readonly (double X, double Y, double Bow, double LateS)[] Kinds =
        [(0, 0, 0, 0), (0, 0, 1.5, 0), (0.1, 0, 0, 0), (0.2, 0, 0, 0), (0.3, 0, 0, 0), (0, 0.1, 0, 0), (0, 0.2, 0, 0), (0, 0.3, 0, 0),
            (0.2, 0.2, 0, 0), (0.2, 0.2, 1.5, 0), (0, 0, 0, 0.002)];

    /// <summary>Reads photos and writes a line for each.</summary>
    public static void Run(TextWriter list, int photos, double pxPerMm, int first)
    {
        foreach ((double x, double y, double bow, double late) in Kinds)
        {
            foreach (string line in Enumerable.Range(first, photos).AsParallel().AsOrdered().WithDegreeOfParallelism(2)
                .Select(seed => Line(x, y, bow, late, pxPerMm, seed)))
                list.WriteLine(line);
            list.Flush();
        }
    }

    private static string Line(double x, double y, double bow, double late, double pxPerMm, int seed)
    {
        (PlanFile plan, string machineFile) = PlayPhotos.Card(followsSpeed: seed % 2 == 1, seed % 15);
        Scene scene = PlayPhotos.SceneOf(plan, pxPerMm, seed, bow);
        byte[] photo = ExifSegment.WithFocalLength(
            BurnedCard.Of(plan.Plan, machineFile, x, y, late).Photo(scene).ToJpeg(80 + seed % 15), 40);
        Outcome<SeenCard> outcome = OneCard.Read([new PhotoFile("photo.jpg", photo)], plan, new VisionOptions());
        string told = outcome.IsRefused
            ? outcome.Refusal!.Code
            : string.Join("; ", outcome.Value.Reading.Photos[0].Warnings.Select(warning => warning.Code
                + (warning.Code is "machine-play" or "pose-residual" or "bowed" ? " " + warning.Message : "")));
        return string.Create(CultureInfo.InvariantCulture, $"x {x} y {y} bow {bow} late {late} seed {seed}: {told}");
    }
}
