namespace CardScan.Fuzz;

/// <summary>Damage inside the compressed data of a JPEG, of the kinds that storage does.</summary>
internal static class JpegDamage
{
    private const int MostPieceBits = 13;

    /// <summary>A copy with bits flipped, or a piece zeroed, doubled, swapped with another, or put in.</summary>
    /// <param name="jpeg">A sound file that ends with its end marker.</param>
    /// <param name="random">Chance.</param>
    public static byte[] Damaged(byte[] jpeg, Random random)
    {
        int from = DataStart(jpeg), length = jpeg.Length - 2 - from;
        byte[] copy = [.. jpeg];
        int piece = Math.Min(1 << random.Next(MostPieceBits), length / 4);
        int at = from + random.Next(length - piece), other = from + random.Next(length - piece);
        switch (random.Next(6))
        {
            case 0: Flip(1); return copy;
            case 1: Flip(random.Next(2, 9)); return copy;
            case 2: Array.Clear(copy, at, piece); return copy;
            case 3: return [.. jpeg[..(at + piece)], .. jpeg[at..]];
            case 4:
                jpeg.AsSpan(other, piece).CopyTo(copy.AsSpan(at));
                if (Math.Abs(other - at) >= piece) jpeg.AsSpan(at, piece).CopyTo(copy.AsSpan(other));
                return copy;
            default:
                byte[] nonsense = new byte[piece];
                random.NextBytes(nonsense);
                return [.. jpeg[..at], .. nonsense, .. jpeg[at..]];
        }

        void Flip(int bits)
        {
            for (int i = 0; i < bits; i++) copy[from + random.Next(length)] ^= (byte)(1 << random.Next(8));
        }
    }

    /// <summary>Where the first scan's data begin: behind its header (ITU-T T.81, B.2.3).</summary>
    private static int DataStart(byte[] jpeg)
    {
        for (int at = 2; ; at += 2 + Length(at))
        {
            if (jpeg[at + 1] == 0xDA) return at + 2 + Length(at);
        }

        int Length(int at) => jpeg[at + 2] << 8 | jpeg[at + 3];
    }
}
