using System.Globalization;
using CardScan.Model;
using CardScan.Vision;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>Play that is found, missed, or told where there is none: photos of cards burned stroke by stroke.</summary>
internal static class PlayStudy
{
    /// <summary>Reads photos and writes a line for each.</summary>
    /// <param name="list">Where the lines go.</param>
    /// <param name="figures">First seed, number of photos, px/mm, play along x and y, bow (all mm), lateness of the beam (ms).</param>
    public static void Run(TextWriter list, double[] figures)
    {
        foreach (string line in Enumerable.Range((int)figures[0], (int)figures[1]).AsParallel().WithDegreeOfParallelism(2)
            .Select(seed => Line(figures[3], figures[4], figures[5], figures[6] / 1000, figures[2], seed)))
        {
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
