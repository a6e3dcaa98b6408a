using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.Arm;
using System.Runtime.Intrinsics.X86;

namespace CardScan.Vision;

/// <summary>From the coefficients of a block to its 8 × 8 pixels: the inverse cosine transform (ITU-T T.81, A.3.3).</summary>
/// <remarks>
/// Source: Loeffler, Ligtenberg and Moschytz, "Practical fast 1-D DCT algorithms with 11 multiplications", ICASSP 1989, in
/// whole numbers with one multiplication more: 13 bits behind the point in the factors, two in what the first pass leaves.
/// Decoders in use do the same, so pixels are theirs to the last bit.
/// </remarks>
internal static unsafe class BlockTransform
{
    public const int Size = 8, Count = Size * Size;

    /// <summary>Coefficients in stored order before this one lie in the upper left quarter of the block.</summary>
    private const int FirstBeyondQuarter = 10;

    private const int FactorBits = 13, KeptBits = 2;
    private const int Half = Size / 2;

    /// <summary>Turns coefficients into pixels.</summary>
    /// <param name="coefficients">
    /// Row by row, times their steps; as many again behind them are the work's own. They are zero afterwards.
    /// </param>
    /// <param name="last">The last that is not zero, in stored order (zigzag).</param>
    /// <param name="pixels">Where the first pixel belongs.</param>
    /// <param name="stride">Bytes from row to row.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Paint(int* coefficients, int last, byte* pixels, int stride)
    {
        if (last == 0)
        {
            PaintFlat((coefficients[0] + 4) >> 3, pixels, stride);
            coefficients[0] = 0;
            return;
        }

        int* turned = coefficients + Count;
        Columns(coefficients, turned);
        if (last >= FirstBeyondQuarter) Columns(coefficients + Half, turned + Half * Size);
        else new Span<int>(turned + Half * Size, Half * Size).Clear();
        new Span<int>(coefficients, Count).Clear();
        Rows(turned, pixels, stride);
        Rows(turned + Half, pixels + Half * stride, stride);
    }

    private static void PaintFlat(int level, byte* pixels, int stride)
    {
        ulong eight = 0x0101010101010101UL * (byte)Math.Clamp(level + 128, 0, 255);
        for (int row = 0; row < Size; row++) *(ulong*)(pixels + row * stride) = eight;
    }

    /// <summary>Transforms four columns and leaves them as rows.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Columns(int* from, int* to)
    {
        Eight of = new(Vector128.Load(from), Vector128.Load(from + 8), Vector128.Load(from + 16), Vector128.Load(from + 24),
            Vector128.Load(from + 32), Vector128.Load(from + 40), Vector128.Load(from + 48), Vector128.Load(from + 56));
        of = Transformed(of, FactorBits - KeptBits);
        Turn(ref of.A, ref of.B, ref of.C, ref of.D);
        Turn(ref of.E, ref of.F, ref of.G, ref of.H);
        of.A.Store(to);
        of.E.Store(to + 4);
        of.B.Store(to + 8);
        of.F.Store(to + 12);
        of.C.Store(to + 16);
        of.G.Store(to + 20);
        of.D.Store(to + 24);
        of.H.Store(to + 28);
    }

    /// <summary>Transforms four rows, which stand side by side, and puts their pixels into their places.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Rows(int* from, byte* pixels, int stride)
    {
        Eight of = new(Vector128.Load(from), Vector128.Load(from + 8), Vector128.Load(from + 16), Vector128.Load(from + 24),
            Vector128.Load(from + 32), Vector128.Load(from + 40), Vector128.Load(from + 48), Vector128.Load(from + 56));
        of = Transformed(of, FactorBits + KeptBits + 3);
        Turn(ref of.A, ref of.B, ref of.C, ref of.D);
        Turn(ref of.E, ref of.F, ref of.G, ref of.H);
        PutTwoRows(of.A, of.E, of.B, of.F, pixels, stride);
        PutTwoRows(of.C, of.G, of.D, of.H, pixels + 2 * stride, stride);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void PutTwoRows(Vector128<int> left, Vector128<int> right, Vector128<int> nextLeft, Vector128<int> nextRight,
        byte* pixels, int stride)
    {
        // Levels are stored about zero; turning the uppermost bit of a signed byte adds 128.
        Vector128<ulong> rows = (Vector128.NarrowWithSaturation(Vector128.NarrowWithSaturation(left, right),
            Vector128.NarrowWithSaturation(nextLeft, nextRight)).AsByte() ^ Vector128.Create((byte)128)).AsUInt64();
        *(ulong*)pixels = rows.GetElement(0);
        *(ulong*)(pixels + stride) = rows.GetElement(1);
    }

    /// <summary>The transform in one direction, of four lines at once; names of the parts follow the paper's figure 1.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Eight Transformed(Eight of, int shift)
    {
        // Even part.
        Vector128<int> common = (of.C + of.G) * 4433;               // √2 cos 6π/16
        Vector128<int> third = common - of.G * 15137, second = common + of.C * 6270;
        Vector128<int> sum = (of.A + of.E) << FactorBits, difference = (of.A - of.E) << FactorBits;
        Vector128<int> even0 = sum + second, even3 = sum - second, even1 = difference + third, even2 = difference - third;

        // Odd part.
        Vector128<int> both = (of.H + of.D + of.F + of.B) * 9633;   // √2 cos 3π/16
        Vector128<int> z1 = (of.H + of.B) * -7373, z2 = (of.F + of.D) * -20995;
        Vector128<int> z3 = (of.H + of.D) * -16069 + both, z4 = (of.F + of.B) * -3196 + both;
        Vector128<int> odd3 = of.H * 2446 + z1 + z3, odd2 = of.F * 16819 + z2 + z4;
        Vector128<int> odd1 = of.D * 25172 + z2 + z3, odd0 = of.B * 12299 + z1 + z4;

        Vector128<int> half = Vector128.Create(1 << (shift - 1));
        (even0, even1, even2, even3) = (even0 + half, even1 + half, even2 + half, even3 + half);
        return new((even0 + odd0) >> shift, (even1 + odd1) >> shift, (even2 + odd2) >> shift, (even3 + odd3) >> shift,
            (even3 - odd3) >> shift, (even2 - odd2) >> shift, (even1 - odd1) >> shift, (even0 - odd0) >> shift);
    }

    /// <summary>Makes rows of four by four columns.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Turn(ref Vector128<int> a, ref Vector128<int> b, ref Vector128<int> c, ref Vector128<int> d)
    {
        Vector128<int> ac = Low(a, c), bd = Low(b, d), ac2 = High(a, c), bd2 = High(b, d);
        (a, b, c, d) = (Low(ac, bd), High(ac, bd), Low(ac2, bd2), High(ac2, bd2));
    }

    /// <summary>The lower halves of two, by turns.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<int> Low(Vector128<int> one, Vector128<int> other) =>
        Sse2.IsSupported ? Sse2.UnpackLow(one, other)
        : AdvSimd.Arm64.IsSupported ? AdvSimd.Arm64.ZipLow(one, other)
        : Vector128.Create(one[0], other[0], one[1], other[1]);

    /// <summary>The upper halves of two, by turns.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<int> High(Vector128<int> one, Vector128<int> other) =>
        Sse2.IsSupported ? Sse2.UnpackHigh(one, other)
        : AdvSimd.Arm64.IsSupported ? AdvSimd.Arm64.ZipHigh(one, other)
        : Vector128.Create(one[2], other[2], one[3], other[3]);

    /// <summary>Eight lines, four of their values each.</summary>
    private struct Eight(Vector128<int> a, Vector128<int> b, Vector128<int> c, Vector128<int> d, Vector128<int> e, Vector128<int> f,
        Vector128<int> g, Vector128<int> h)
    {
        public Vector128<int> A = a, B = b, C = c, D = d, E = e, F = f, G = g, H = h;
    }
}
