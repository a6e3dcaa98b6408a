using System.Numerics;

namespace CardScan.Vision;

/// <summary>What a table of quantiser steps lets coefficients be, in the order in which they are stored.</summary>
/// <param name="Most">The largest of each.</param>
/// <param name="SafeBits">The bits of each that never make more than that.</param>
internal sealed record JpegSteps(int[] Most, byte[] SafeBits)
{
    public const int Count = 64;

    /// <summary>
    /// No coefficient of 8-bit pixels is larger: 8 × 128 for the mean, 928 for the others, and half a step of rounding.
    /// A whole step and 16 more are let pass, for encoders that do not round but choose.
    /// </summary>
    private const int MostCoefficient = 8 * 128, Leeway = 16;

    /// <summary>Reads a table of one byte or two for each step; null where a step is none.</summary>
    public static JpegSteps? Of(ReadOnlySpan<byte> table, int bytes)
    {
        int[] most = new int[Count];
        for (int i = 0; i < Count; i++)
        {
            int step = bytes == 1 ? table[i] : table.U16(2 * i);
            if (step == 0) return null;
            most[i] = (MostCoefficient + step + Leeway) / step;
        }

        return new(most, [.. most.Select(largest => (byte)BitOperations.Log2((uint)largest + 1))]);
    }
}
