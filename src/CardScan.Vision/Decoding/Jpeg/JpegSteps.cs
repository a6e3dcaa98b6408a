using System.Numerics;

namespace CardScan.Vision;

/// <summary>The quantiser step of a coefficient, and what the coefficient can be.</summary>
/// <param name="Size">The step.</param>
/// <param name="Most">The largest value, in steps.</param>
/// <param name="SafeBits">The bits that never make more than that.</param>
/// <param name="Place">Where it stands in its block, row by row.</param>
internal readonly record struct JpegStep(ushort Size, ushort Most, byte SafeBits, byte Place);

/// <summary>A table of quantiser steps, in the order in which coefficients are stored.</summary>
/// <param name="Each">The steps.</param>
internal sealed record JpegSteps(JpegStep[] Each)
{
    public const int Count = BlockTransform.Count;

    /// <summary>
    /// No coefficient of 8-bit pixels is larger: 8 × 128 for the mean, 928 for the others, and half a step of rounding.
    /// A whole step and 16 more are let pass, for encoders that do not round but choose.
    /// </summary>
    private const int MostCoefficient = 8 * 128, Leeway = 16;

    /// <summary>False where coefficients times their steps are farther out of the range of pixels than a transform can take.</summary>
    public bool AreSmall => Each.All(step => step.Size <= byte.MaxValue);

    /// <summary>Reads a table of one byte or two for each step; null where a step is none.</summary>
    public static JpegSteps? Of(ReadOnlySpan<byte> table, int bytes)
    {
        JpegStep[] steps = new JpegStep[Count];
        for (int i = 0; i < Count; i++)
        {
            int size = bytes == 1 ? table[i] : table.U16(2 * i);
            if (size == 0) return null;
            int most = (MostCoefficient + size + Leeway) / size;
            steps[i] = new((ushort)size, (ushort)most, (byte)BitOperations.Log2((uint)most + 1), Places[i]);
        }

        return new(steps);
    }

    /// <summary>Places in the order in which coefficients are stored: along the diagonals, by turns up and down (T.81, figure 5).</summary>
    private static readonly byte[] Places =
    [
        .. Enumerable.Range(0, Count).OrderBy(place => place / 8 + place % 8)
            .ThenBy(place => (place / 8 + place % 8) % 2 == 0 ? -(place / 8) : place / 8).Select(place => (byte)place)
    ];
}
