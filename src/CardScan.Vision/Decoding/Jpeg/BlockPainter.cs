using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Puts the blocks of a component into its plane of a picture.</summary>
/// <param name="plane">The plane; there is room behind its rows, and behind the last one, for whole blocks.</param>
internal sealed unsafe class BlockPainter(Mat plane)
{
    private readonly byte* _first = plane.DataPointer;
    private readonly int _stride = (int)plane.Step();

    /// <summary>Takes memory for the picture of a scan and gives its components their painters.</summary>
    /// <param name="scan">The scan.</param>
    /// <returns>The picture; null where it is not one of luma and half or whole chroma, all in this scan.</returns>
    public static Planes? TryPrepare(JpegScan scan)
    {
        JpegFrame frame = scan.Frame;
        JpegComponent[] components = [.. scan.Parts.Select(part => part.Component)];
        if (frame.IsProgressive || !components.SequenceEqual(frame.Components) || components.Length is not (1 or 3)) return null;
        if (scan.Parts.Any(part => !part.Steps.AreSmall)) return null;
        Size sharing = new(components[0].AcrossUnit, components[0].DownUnit);
        if (sharing.Width > 2 || sharing.Height > 2) return null;
        if (components.Skip(1).Any(chroma => chroma.AcrossUnit != 1 || chroma.DownUnit != 1)) return null;

        Planes planes = new(frame.Width, frame.Height, sharing, new(frame.UnitWidth, frame.UnitHeight));
        scan.Parts[0].Painter = new(planes.Luma);
        if (components.Length == 3) (scan.Parts[1].Painter, scan.Parts[2].Painter) = (new(planes.Blue), new(planes.Red));
        else
        {
            planes.Blue.SetTo(Planes.NoColour);
            planes.Red.SetTo(Planes.NoColour);
        }

        return planes;
    }

    /// <summary>Paints a block.</summary>
    /// <param name="column">Its place in blocks of the component.</param>
    /// <param name="row">The same down.</param>
    /// <param name="coefficients">As <see cref="BlockTransform.Paint"/> takes them.</param>
    /// <param name="last">The same.</param>
    public void Paint(int column, int row, int* coefficients, int last) =>
        BlockTransform.Paint(coefficients, last, _first + ((long)row * _stride + column) * BlockTransform.Size, _stride);
}
