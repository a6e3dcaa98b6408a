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
    private const int LeastStepCodes = 2;

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
    /// <param name="picture">The picture as it lies in the file.</param>
    /// <param name="frame">Its frame.</param>
    public static bool RunsThrough(StoredPixels picture, JpegFrame frame) => LargestShare(picture, frame) >= LeastShare;

    /// <summary>The largest share, over all places where the damage could begin, of the edge that steps the same way.</summary>
    internal static double LargestShare(StoredPixels picture, JpegFrame frame)
    {
        if (picture.Width / frame.UnitWidth < FewestAcross) return 0;
        if (picture is Planes planes) return LargestShare(planes.Luma, planes.Blue, planes.Red, planes.Sharing, frame);
        using Mat luma = picture.GreyOf(new(0, 0, picture.Width, picture.Height)), blue = new(), red = new();
        HalfChroma(((BgrPixels)picture).Bgr, blue, red);
        return LargestShare(luma, blue, red, new(2, 2), frame);
    }

    private static double LargestShare(Mat luma, Mat blue, Mat red, Size sharing, JpegFrame frame)
    {
        (int across, int down, int width, int height) = (luma.Width / frame.UnitWidth, frame.Units.Down, frame.UnitWidth, frame.UnitHeight);
        UnitRows ofLuma = new(luma, width, height, across);
        (width, height) = (width / sharing.Width, height / sharing.Height);
        UnitRows ofBlue = new(blue, width, height, across), ofRed = new(red, width, height, across);
        return Math.Max(LargestShare(ofLuma, down), Math.Max(LargestShare(ofBlue, down), LargestShare(ofRed, down)));
    }

    /// <summary>Chroma at half size, where a decoder has not smoothed its steps away that enlarged it.</summary>
    private static void HalfChroma(Mat bgr, Mat blue, Mat red)
    {
        using Mat even = new(bgr, new Rect(0, 0, bgr.Width & ~1, bgr.Height & ~1)), half = StoredPixels.Halved(even), whole = new();
        Cv2.CvtColor(half, whole, ColorConversionCodes.BGR2YCrCb);
        Cv2.ExtractChannel(whole, red, 1);
        Cv2.ExtractChannel(whole, blue, 2);
    }

    private static double LargestShare(UnitRows plane, int down)
    {
        double largest = 0;
        Steps above = plane.StepsAt(1);
        for (int row = 1; row < down; row++)
        {
            Steps below = plane.StepsAt(row + 1);
            if (MayBeMore(above.Up, below.Up)) largest = Math.Max(largest, Largest(above.Up, below.Up));
            if (MayBeMore(above.Down, below.Down)) largest = Math.Max(largest, Largest(above.Down, below.Down));
            above = below;
        }

        return largest;

        bool MayBeMore(int[] before, int[] after) => before[^1] + after[^1] > largest * (before.Length - 1);
    }

    /// <summary>The best place to begin: units behind it step at their upper edge, units before it at their lower one.</summary>
    /// <remarks>The border of a frame steps at one edge alone; so each of the two parts must step by itself.</remarks>
    private static double Largest(int[] above, int[] below)
    {
        int across = above.Length - 1;
        double best = 0;
        for (int at = FewestOfAPart; at <= across - FewestOfAPart; at++)
        {
            double behind = (above[across] - above[at]) / (double)(across - at), before = below[at] / (double)at;
            best = Math.Max(best, Math.Min(Math.Min(behind, before) / LeastOfAPart * LeastShare,
                (behind * (across - at) + before * at) / across));
        }

        return best;
    }

    /// <summary>Units that step up and down at one edge between rows, counted from the left.</summary>
    private sealed record Steps(int[] Up, int[] Down);

    /// <summary>A plane of the picture, in the units of its file.</summary>
    private sealed class UnitRows(Mat plane, int unitWidth, int unitHeight, int across)
    {
        private readonly byte* _first = plane.DataPointer;
        private readonly int _height = plane.Height, _stride = (int)plane.Step();

        /// <summary>The steps at the upper edge of a row of units.</summary>
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public Steps StepsAt(int row)
        {
            Steps steps = new(new int[across + 1], new int[across + 1]);
            int y = row * unitHeight;
            if (y + 2 > _height || y < 2) return steps;
            int apart = unitWidth / Columns;
            byte* pixel = _first + (long)y * _stride + apart / 2;
            for (int unit = 0; unit < across; unit++)
            {
                int step = 0;
                for (int i = 0; i < Columns; i++, pixel += apart) step += DoubleStep(pixel);
                steps.Up[unit + 1] = steps.Up[unit] + (step > 2 * Columns * LeastStepCodes ? 1 : 0);
                steps.Down[unit + 1] = steps.Down[unit] + (step < -2 * Columns * LeastStepCodes ? 1 : 0);
            }

            return steps;
        }

        /// <summary>Twice what a pixel differs by from the one above it, beyond the slope around them.</summary>
        private int DoubleStep(byte* pixel) => 3 * (pixel[0] - pixel[-_stride]) - (pixel[_stride] - pixel[-2 * _stride]);
    }
}
