using System.Runtime.CompilerServices;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>
/// The mark of a changed bit that leaves a JPEG's data readable: means are stored as differences, so everything behind the
/// changed one, in the order of the file, is lighter, darker or tinted by as much.
/// </summary>
/// <remarks>
/// The edge of it runs along the rows of the file's units, one row lower on the left of the changed unit than on its
/// right, over the whole width of the picture: no edge that a lens drew does.
/// </remarks>
internal static unsafe class BrightnessStep
{
    /// <summary>A step of fewer codes moves a mark's contrast by less than its error.</summary>
    private const double LeastStepCodes = 2;

    /// <summary>Share of the edge that steps the same way by more than that; sound pictures have 0.5 at the very most, by chance.</summary>
    private const double LeastShare = 0.75;

    /// <summary>Fewer units across say nothing.</summary>
    private const int FewestAcross = 12;

    /// <summary>A part of the edge has at least so many units, and steps in at least this share of them.</summary>
    private const int FewestOfAPart = 4;
    private const double LeastOfAPart = 0.6;

    /// <summary>Columns looked at in each unit.</summary>
    private const int Columns = 4;

    /// <summary>True where such an edge runs through the picture.</summary>
    /// <param name="bgr">The picture as it lies in the file, 8-bit, blue-green-red.</param>
    /// <param name="frame">Its frame.</param>
    public static bool RunsThrough(Mat bgr, JpegFrame frame) => LargestShare(bgr, frame) >= LeastShare;

    /// <summary>The largest share, over all places where the damage could begin, of the edge that steps the same way.</summary>
    internal static double LargestShare(Mat bgr, JpegFrame frame)
    {
        (int across, int down) = (bgr.Width / frame.UnitWidth, frame.Units.Down);
        if (across < FewestAcross) return 0;
        double largest = 0;
        Steps above = Steps.Across(bgr, frame, 1, across);
        for (int row = 1; row < down; row++)
        {
            Steps below = Steps.Across(bgr, frame, row + 1, across);
            for (int channel = 0; channel < 3; channel++)
            {
                largest = Math.Max(largest, Largest(above.Up[channel], below.Up[channel], across));
                largest = Math.Max(largest, Largest(above.Down[channel], below.Down[channel], across));
            }

            above = below;
        }

        return largest;
    }

    /// <summary>The best place to begin: units behind it step at their upper edge, units before it at their lower one.</summary>
    /// <remarks>The border of a frame steps at one edge alone; so each of the two parts must step by itself.</remarks>
    private static double Largest(int[] above, int[] below, int across)
    {
        double best = 0;
        for (int at = FewestOfAPart; at <= across - FewestOfAPart; at++)
        {
            double behind = (above[across] - above[at]) / (double)(across - at), before = below[at] / (double)at;
            best = Math.Max(best, Math.Min(Math.Min(behind, before) / LeastOfAPart * LeastShare,
                (behind * (across - at) + before * at) / across));
        }

        return best;
    }

    /// <summary>Units that step up and down at one edge between rows, counted from the left, for luma and both chromas.</summary>
    private sealed record Steps(int[][] Up, int[][] Down)
    {
        public static Steps Across(Mat bgr, JpegFrame frame, int row, int across)
        {
            Steps steps = new([new int[across + 1], new int[across + 1], new int[across + 1]],
                [new int[across + 1], new int[across + 1], new int[across + 1]]);
            int y = row * frame.UnitHeight;
            PixelRows pixels = new((byte*)bgr.Data, bgr.Step());
            if (y + 5 > bgr.Height || y < 6) return steps;
            for (int x = 0; x < across; x++)
            {
                (double luma, double blue, double red) = Step(pixels, x * frame.UnitWidth, y, frame.UnitWidth);
                Count(0, luma);
                Count(1, blue);
                Count(2, red);

                void Count(int channel, double step)
                {
                    steps.Up[channel][x + 1] = steps.Up[channel][x] + (step > LeastStepCodes ? 1 : 0);
                    steps.Down[channel][x + 1] = steps.Down[channel][x] + (step < -LeastStepCodes ? 1 : 0);
                }
            }

            return steps;
        }

        /// <summary>
        /// What two rows differ by beyond the slope around them; chroma is smoothed when it is enlarged, and its rows lie
        /// farther apart.
        /// </summary>
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        private static (double Luma, double Blue, double Red) Step(PixelRows pixels, int left, int y, int width)
        {
            (double luma, double blue, double red) = (0, 0, 0);
            for (int i = 0; i < Columns; i++)
            {
                int x = left + (2 * i + 1) * width / (2 * Columns);
                luma += 1.5 * (pixels.Luma(x, y) - pixels.Luma(x, y - 1)) - 0.5 * (pixels.Luma(x, y + 1) - pixels.Luma(x, y - 2));
                (double b1, double r1) = pixels.Chroma(x, y + 1);
                (double b0, double r0) = pixels.Chroma(x, y - 2);
                (double b3, double r3) = pixels.Chroma(x, y + 4);
                (double b2, double r2) = pixels.Chroma(x, y - 5);
                blue += 1.5 * (b1 - b0) - 0.5 * (b3 - b2);
                red += 1.5 * (r1 - r0) - 0.5 * (r3 - r2);
            }

            return (luma / Columns, blue / Columns, red / Columns);
        }
    }

    /// <summary>The picture's pixels, in luma and chroma (ITU-T T.871).</summary>
    private readonly struct PixelRows(byte* first, long stride)
    {
        public double Luma(int x, int y)
        {
            byte* pixel = first + y * stride + 3 * x;
            return 0.114 * pixel[0] + 0.587 * pixel[1] + 0.299 * pixel[2];
        }

        public (double Blue, double Red) Chroma(int x, int y)
        {
            byte* pixel = first + y * stride + 3 * x;
            double luma = Luma(x, y);
            return (0.564 * (pixel[0] - luma), 0.713 * (pixel[2] - luma));
        }
    }
}
