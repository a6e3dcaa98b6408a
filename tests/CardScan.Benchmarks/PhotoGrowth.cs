using System.Diagnostics;
using System.Globalization;
using CardScan.Model;
using CardScan.Vision;
using CardScan.Vision.Tests.Rendering;
using OpenCvSharp;
using Process = System.Diagnostics.Process;

namespace CardScan.Benchmarks;

/// <summary>
/// How time and memory of reading grow with the photo's pixels and the card's cells, and whether they grow with the number of photos.
/// </summary>
/// <remarks>Each size is read in a process of its own, so that its peak of memory is its own.</remarks>
internal static class PhotoGrowth
{
    /// <summary>Name of the mode that a child process runs in.</summary>
    public const string Child = "growth-child";

    private static readonly int[] Megapixels = [3, 6, 12, 24, 48, 100];
    private static readonly int[] CellsAlongSide = [3, 5, 8, 12, 20];

    /// <summary>Both tables.</summary>
    public static void Run(int rounds)
    {
        Console.WriteLine("photo, 20 cells        decode ms    read ms    peak MB");
        foreach (int megapixels in Megapixels)
            Measure($"{megapixels} megapixels", Photo(TestPlans.Engraved(), megapixels), TestPlans.Engraved(), rounds);
        Console.WriteLine("cells, 12 megapixels   decode ms    read ms    peak MB");
        foreach (int side in CellsAlongSide) Measure($"{side * side} cells", Photo(Grid(side), 12), Grid(side), rounds);
    }

    /// <summary>One size, in a child process: a line of figures.</summary>
    public static void RunChild(string photo, string plan, int rounds)
    {
        BenchmarkPhoto given = BenchmarkPhoto.Load(photo, plan);
        List<double> decode = [], read = [];
        for (int i = -1; i < rounds; i++)
        {
            TimeSpan start = Environment.CpuUsage.TotalTime;
            Cv2.ImDecode(given.Bytes, ImreadModes.Color).Dispose();
            TimeSpan decoded = Environment.CpuUsage.TotalTime;
            Outcome<SeenCard> seen = OneCard.Read([new PhotoFile(given.Name, given.Bytes)], given.Plan, new VisionOptions());
            if (seen.IsRefused) throw new InvalidOperationException(seen.Refusal!.ToString());
            if (i < 0) continue;
            decode.Add((decoded - start).TotalMilliseconds);
            read.Add((Environment.CpuUsage.TotalTime - decoded).TotalMilliseconds);
        }

        using Process self = Process.GetCurrentProcess();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{Median(decode),10:F0} {Median(read),10:F0} {self.PeakWorkingSet64 / 1e6,10:F0}"));
    }

    /// <summary>One photo read again and again: the memory of the process as the system counts it, native memory included.</summary>
    public static void RunLeak(BenchmarkPhoto photo, int reads)
    {
        Console.WriteLine($"{photo.Name}, {reads} reads in one process; resident memory after a collection");
        for (int i = 1; i <= reads; i++)
        {
            if (OneCard.Read([new PhotoFile(photo.Name, photo.Bytes)], photo.Plan, new VisionOptions()).IsRefused)
                throw new InvalidOperationException("The photo is refused.");
            if (i is 10 or 50 || i % 100 == 0) Console.WriteLine($"{i,6} reads {ResidentMegabytes(),8:F1} MB");
        }
    }

    /// <summary>Resident memory of this process after a collection, MB.</summary>
    internal static double ResidentMegabytes()
    {
        for (int i = 0; i < 3; i++)
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
        }

        using Process self = Process.GetCurrentProcess();
        return self.WorkingSet64 / 1e6;
    }

    private static void Measure(string name, byte[] photo, PlanFile plan, int rounds)
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-growth-").FullName;
        try
        {
            string photoFile = Path.Combine(folder, "photo.jpg"), planFile = Path.Combine(folder, "plan.json");
            File.WriteAllBytes(photoFile, photo);
            File.WriteAllText(planFile, CardJson.Write(plan.Plan));
            using Process child = Process.Start(
                new ProcessStartInfo("dotnet", [typeof(PhotoGrowth).Assembly.Location, Child, photoFile, planFile, $"{rounds}"])
                {
                    RedirectStandardOutput = true,
                    UseShellExecute = false
                })!;
            Console.WriteLine($"{name,-20}{child.StandardOutput.ReadToEnd().TrimEnd()}   ({photo.Length / 1e6:F1} MB)");
            child.WaitForExit();
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>A rendered photo brought to size, with noise of its own pixels: without it a JPEG would decode too quickly.</summary>
    private static byte[] Photo(PlanFile plan, int megapixels)
    {
        Scene scene = new() { Plan = plan, Camera = new() { WidthPx = 2400, HeightPx = 1800, TiltDeg = 8, RollDeg = 4 }, Grain = 0.04 };
        using Mat rendered = Cv2.ImDecode(SceneRenderer.Render(scene).ToPng(), ImreadModes.Color);
        double scale = Math.Sqrt(megapixels * 1e6 / (2400.0 * 1800));
        using Mat sized = new();
        Cv2.Resize(rendered, sized, new Size(), scale, scale, InterpolationFlags.Linear);
        using Mat noise = new(sized.Size(), MatType.CV_8UC3), noisy = new();
        Cv2.Randn(noise, Scalar.All(6), Scalar.All(3));
        Cv2.Add(sized, noise, noisy);
        Cv2.ImEncode(".jpg", noisy, out byte[] file, new ImageEncodingParam(ImwriteFlags.JpegQuality, 90));
        return file;
    }

    /// <summary>A photo of 12 megapixels of a card with so many cells along each side.</summary>
    internal static BenchmarkPhoto GridPhoto(int side) => new($"{side} x {side}", Photo(Grid(side), 12), Grid(side));

    /// <summary>The test card with another grid between its markers.</summary>
    private static PlanFile Grid(int side)
    {
        Plan plan = TestPlans.Engraved().Plan;
        double pitchX = 78.0 / side, pitchY = 64.0 / side, size = 0.62 * pitchY;
        double[] speeds = [.. Enumerable.Range(1, side).Select(i => 500.0 * i)],
            powers = [.. Enumerable.Range(1, side).Select(i => 100.0 * i / side)];
        plan = plan with
        {
            Columns = plan.Columns with { Values = [.. powers] },
            Rows = plan.Rows with { Values = [.. speeds] },
            Cells = [.. Enumerable.Range(0, side * side).Select(i => new Cell
            {
                Row = i / side,
                Column = i % side,
                XMm = 21 + pitchX * (i % side),
                YMm = 18 + pitchY * (i / side),
                WidthMm = size,
                HeightMm = size
            })],
        };
        return new(plan, CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan))));
    }

    private static double Median(List<double> values)
    {
        values.Sort();
        return values[values.Count / 2];
    }
}
