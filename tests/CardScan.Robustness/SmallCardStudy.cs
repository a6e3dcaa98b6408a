using System.Globalization;
using CardScan.Model;
using CardScan.Vision;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>How small markers, gaps and cells may be: cards of 86 mm × 54 mm, read from rendered photos of known truth.</summary>
internal static class SmallCardStudy
{
    private const int Photos = 6;

    private static readonly SmallSizes[] Sizes =
    [
        new(8, 3, 4), new(6, 3, 4), new(5, 3, 4), new(4, 3, 4), new(6, 6, 4), new(6, 4, 4), new(6, 2.5, 4), new(6, 2, 4),
        new(6, 3, 3), new(6, 3, 2),
    ];

    private static readonly (string Name, double Loss, double FadeMm, double MarkerBleedMm)[] Chars =
    [
        ("none", 0, 1, 0), ("0.5 mm", 0.25, 0.3, 0), ("1.2 mm", 0.3, 0.67, 0), ("markers, 0.15 mm", 0, 1, 0.15),
        ("markers, 0.25 mm", 0, 1, 0.25),
    ];

    private static readonly (string Name, double PxPerMm, double LocalTone)[] Views =
        [("35", 35, 0), ("20", 20, 0), ("12", 12, 0), ("8", 8, 0), ("20, local tone", 20, 0.1)];

    /// <summary>Reads all photos and writes a line for each kind of them.</summary>
    /// <param name="page">Where they go.</param>
    /// <param name="only">Places in the list of sizes; null takes all.</param>
    public static void Run(TextWriter page, int[]? only)
    {
        page.WriteLine("| marker, mm | gap, mm | cell, mm | photo, px/mm | char | read | place, mm, worst | darkness, RMS "
            + "| darkness, worst | error / stated, RMS |");
        page.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (SmallSizes sizes in only?.Select(i => Sizes[i]) ?? Sizes)
        {
            foreach ((string view, double pxPerMm, double local) in Views)
            {
                foreach ((string name, double loss, double fade, double bleed) in Chars)
                {
                    if (loss + bleed > 0 && (pxPerMm != 20 || local > 0)) continue;
                    page.WriteLine(Line(sizes, view, name, [.. Enumerable.Range(0, Photos).AsParallel().WithDegreeOfParallelism(2)
                        .Select(i => Read(sizes, pxPerMm, local, loss, fade, bleed, i))]));
                    page.Flush();
                }
            }
        }
    }

    private static string Line(SmallSizes sizes, string view, string name, Found[] photos)
    {
        Found[] read = [.. photos.Where(photo => photo.Refusal is null)];
        (double Error, double Stated)[] cells = [.. read.SelectMany(photo => photo.Cells)];
        string left = string.Create(CultureInfo.InvariantCulture, $"| {sizes.Marker} | {sizes.Gap} | {sizes.Cell} | {view} | {name} "
            + $"| {read.Length} of {photos.Length} |");
        if (cells.Length == 0) return $"{left} {photos[0].Refusal} | | | |";
        return left + string.Create(CultureInfo.InvariantCulture,
            $" {read.Max(photo => photo.PlaceMm):F3} | {Rms(cells.Select(cell => cell.Error)):F3} "
            + $"| {cells.Max(cell => Math.Abs(cell.Error)):F3} | {Rms(cells.Select(cell => cell.Error / cell.Stated)):F2} |");
    }

    private static double Rms(IEnumerable<double> values) => Math.Sqrt(values.Average(value => value * value));

    private static Found Read(SmallSizes sizes, double pxPerMm, double local, double loss, double fade, double bleed, int number)
    {
        Random random = new(1000 + number);
        PlanFile plan = SmallCards.PlanOf(sizes);
        double shade = random.NextDouble(), board = 300 * random.NextDouble();
        Func<double, double, double> halo = loss > 0 ? SmallCards.Halo(plan.Plan, loss, fade) : (_, _) => 1;
        Scene scene = new()
        {
            Plan = plan,
            Camera = SmallCards.Phone(plan.Plan.Card, pxPerMm, 25 * random.NextDouble(), 20 * random.NextDouble() - 10),
            Darkness = cell => 0.08 + 0.16 * cell.Column + 0.03 * cell.Row,
            Light = (x, y) => Math.Exp(0.02 * Streaks.At(x + board, y + board)) * (1 - 0.006 * shade * x) * halo(x, y),
            MarkerBleedMm = bleed,
            BlurPx = 0.7 + 0.8 * random.NextDouble(),
            Noise = 0.006 + 0.006 * random.NextDouble(),
        };
        LinearPicture picture = SceneRenderer.Render(scene);
        if (local > 0) picture = picture.LocallyToned(local, 4 * pxPerMm);
        byte[] photo = ExifSegment.WithFocalLength(picture.ToJpeg(82 + random.Next(12)), 40);
        Outcome<SeenCard> outcome = OneCard.Read([new PhotoFile("photo.jpg", photo)], plan, new VisionOptions());
        if (outcome.IsRefused) return new(outcome.Refusal!.Code, 0, []);
        (CellReading Seen, Cell Cell)[] cells = [.. outcome.Value.Reading.Cells.Zip(plan.Plan.Cells)
            .Where(pair => pair.First.Darkness is not null && !pair.First.Flags.Any(CellFlag.IsDisqualifying))];
        return new(null, cells.Max(pair => PlaceMm(scene, pair.Seen, pair.Cell)),
            [.. cells.Select(pair => (pair.Seen.Darkness!.Value - scene.Darkness(pair.Cell), pair.Seen.Darkness.StandardError))]);
    }

    private static double PlaceMm(Scene scene, CellReading seen, Cell cell)
    {
        (double x, double y) = scene.CentreOf(cell);
        return Math.Sqrt(Math.Pow(seen.CenterPx!.X - x, 2) + Math.Pow(seen.CenterPx.Y - y, 2)) / scene.Camera.PxPerMm;
    }

    private sealed record Found(string? Refusal, double PlaceMm, (double Error, double Stated)[] Cells);
}
