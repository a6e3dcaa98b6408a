namespace CardScan.Vision;

/// <summary>A colour component of a JPEG picture.</summary>
internal sealed class JpegComponent
{
    public required int Id { get; init; }

    /// <summary>Blocks in a unit of all components together, across and down, 1 to 4.</summary>
    public required int AcrossUnit { get; init; }

    public required int DownUnit { get; init; }

    /// <summary>Which of the four tables of steps it is quantised with.</summary>
    public required int Steps { get; init; }

    /// <summary>Blocks that its own part of the picture takes, across and down.</summary>
    public required int Across { get; init; }

    public required int Down { get; init; }

    /// <summary>Blocks across with those that fill up the last unit.</summary>
    public required int AcrossFilled { get; init; }

    /// <summary>Number of blocks with those that fill up the last units.</summary>
    public required int Blocks { get; init; }

    /// <summary>Bits of the mean that are still to come; 16 before the first.</summary>
    public int MeanBitsToCome { get; set; } = 16;

    /// <summary>The mean of the block before, while a scan is walked.</summary>
    public int Mean { get; set; }

    /// <summary>
    /// Which coefficients of each block are not zero, a bit each: refining scans need to know. Null where there are none.
    /// </summary>
    public ulong[]? NonZero { get; init; }
}

/// <summary>What a JPEG picture's frame header tells (ITU-T T.81, B.2.2).</summary>
/// <param name="IsProgressive">True where coefficients come in several scans.</param>
/// <param name="Width">Px.</param>
/// <param name="Height">Px.</param>
/// <param name="UnitWidth">Width of a unit of all components together, px: 8 or 16, as a rule.</param>
/// <param name="UnitHeight">Its height, px.</param>
/// <param name="Components">Its components.</param>
internal sealed record JpegFrame(bool IsProgressive, int Width, int Height, int UnitWidth, int UnitHeight, JpegComponent[] Components)
{
    private const int BlockPx = 8;

    /// <summary>Units across and down.</summary>
    public (int Across, int Down) Units => (Ceiling(Width, UnitWidth), Ceiling(Height, UnitHeight));

    /// <summary>Reads the header; null where it makes no sense.</summary>
    public static JpegFrame? Of(bool isProgressive, ReadOnlySpan<byte> body)
    {
        if (body.Length < 6 || body.Length < 6 + 3 * body[5] || body[5] is < 1 or > 4) return null;
        (int height, int width, int count) = (body.U16(1), body.U16(3), body[5]);
        (int mostAcross, int mostDown) = (0, 0);
        for (int i = 0; i < count; i++)
        {
            (int across, int down) = (body[7 + 3 * i] >> 4, body[7 + 3 * i] & 15);
            if (across is < 1 or > 4 || down is < 1 or > 4) return null;
            (mostAcross, mostDown) = (Math.Max(mostAcross, across), Math.Max(mostDown, down));
        }

        JpegFrame frame = new(isProgressive, width, height, BlockPx * mostAcross, BlockPx * mostDown, new JpegComponent[count]);
        for (int i = 0; i < count; i++)
        {
            (int across, int down) = (body[7 + 3 * i] >> 4, body[7 + 3 * i] & 15);
            int filled = frame.Units.Across * across, blocks = filled * frame.Units.Down * down;
            frame.Components[i] = new()
            {
                Id = body[6 + 3 * i],
                AcrossUnit = across,
                DownUnit = down,
                Steps = body[8 + 3 * i] & 3,
                Across = Ceiling(Ceiling(width * across, mostAcross), BlockPx),
                Down = Ceiling(Ceiling(height * down, mostDown), BlockPx),
                AcrossFilled = filled,
                Blocks = blocks,
                NonZero = isProgressive ? new ulong[blocks] : null,
            };
        }

        return width < 1 || height < 1 ? null : frame;
    }

    private static int Ceiling(int number, int by) => (number + by - 1) / by;
}
