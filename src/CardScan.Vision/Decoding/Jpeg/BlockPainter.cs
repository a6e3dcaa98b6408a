namespace CardScan.Vision;

/// <summary>Puts the blocks of a component into its plane of a picture.</summary>
/// <param name="plane">The first pixel of the plane.</param>
/// <param name="stride">Bytes from row to row.</param>
/// <param name="across">Pixels of the file that become one, across: 1 or 2.</param>
/// <param name="down">The same down.</param>
internal sealed unsafe class BlockPainter(byte* plane, int stride, int across, int down)
{
    private const int BlockPx = BlockTransform.Size;

    private readonly byte* _plane = plane;

    /// <summary>Takes memory for the picture of a scan and gives its components their painters.</summary>
    /// <param name="scan">The scan.</param>
    /// <returns>The picture; null where it is not one of luma and half or whole chroma, all in this scan.</returns>
    public static Planes? TryPrepare(JpegScan scan)
    {
        JpegFrame frame = scan.Frame;
        JpegComponent[] components = [.. scan.Parts.Select(part => part.Component)];
        if (frame.IsProgressive || !components.SequenceEqual(frame.Components) || components.Length is not (1 or 3)) return null;
        if (scan.Parts.Any(part => !part.Steps.AreSmall)) return null;
        JpegComponent luma = components[0];
        if (luma.AcrossUnit > 2 || luma.DownUnit > 2) return null;
        if (components.Skip(1).Any(chroma => chroma.AcrossUnit != 1 || chroma.DownUnit != 1)) return null;

        Planes planes = new(frame.Width, frame.Height, Math.Max(2, frame.UnitWidth), Math.Max(2, frame.UnitHeight));
        scan.Parts[0].Painter = new(planes.LumaPixels, planes.LumaStride, 1, 1);
        if (components.Length == 3)
        {
            scan.Parts[1].Painter = new(planes.BluePixels, planes.ChromaStride, 2 / luma.AcrossUnit, 2 / luma.DownUnit);
            scan.Parts[2].Painter = new(planes.RedPixels, planes.ChromaStride, 2 / luma.AcrossUnit, 2 / luma.DownUnit);
        }
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
    public void Paint(int column, int row, int* coefficients, int last)
    {
        byte* place = _plane + (long)(row * BlockPx / down) * stride + column * BlockPx / across;
        if (across * down == 1)
        {
            BlockTransform.Paint(coefficients, last, place, stride);
            return;
        }

        byte* whole = stackalloc byte[BlockTransform.Count];
        BlockTransform.Paint(coefficients, last, whole, BlockPx);
        for (int y = 0; y < BlockPx / down; y++)
        {
            for (int x = 0; x < BlockPx / across; x++)
                place[(long)y * stride + x] = Mean(whole + y * down * BlockPx + x * across);
        }
    }

    private byte Mean(byte* first)
    {
        int sum = across * down / 2;
        for (int y = 0; y < down; y++)
        {
            for (int x = 0; x < across; x++) sum += first[y * BlockPx + x];
        }

        return (byte)(sum / (across * down));
    }
}
