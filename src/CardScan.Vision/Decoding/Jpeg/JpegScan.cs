using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace CardScan.Vision;

/// <summary>A component in a scan.</summary>
/// <param name="Component">The component.</param>
/// <param name="Means">The code of its means.</param>
/// <param name="Others">And of the rest; a code that the scan does not need may be missing.</param>
/// <param name="Steps">Its quantiser steps.</param>
internal sealed record JpegScanPart(JpegComponent Component, HuffmanCode? Means, HuffmanCode? Others, JpegSteps Steps)
{
    /// <summary>Makes its picture; null where none is made.</summary>
    public BlockPainter? Painter { get; set; }
}

/// <summary>One scan of a JPEG picture, walked symbol by symbol (ITU-T T.81, annexes F and G).</summary>
/// <remarks>
/// Its methods are compiled at their best from the first call on: most processes read one photo, and end before it is known
/// that they are called often.
/// </remarks>
internal sealed unsafe class JpegScan
{
    public required JpegFrame Frame { get; init; }

    /// <summary>Its components.</summary>
    public required JpegScanPart[] Parts { get; init; }

    /// <summary>First and last coefficient.</summary>
    public required int First { get; init; }

    public required int Last { get; init; }

    /// <summary>The bit that an earlier scan ended with, 0 in the first, and the bit that this one ends with.</summary>
    public required int High { get; init; }

    public required int Low { get; init; }

    /// <summary>Units between restart markers; 0 for none.</summary>
    public required int RestartInterval { get; init; }

    /// <summary>Blocks still to come that have nothing more.</summary>
    private int _emptyBlocks;

    /// <summary>A block's coefficients, and room for its transform.</summary>
    private readonly int[] _block = GC.AllocateArray<int>(2 * BlockTransform.Count, pinned: true);

    /// <summary>Walks the scan, and paints it where its parts have painters.</summary>
    /// <param name="file">The file.</param>
    /// <param name="at">Where its bits begin.</param>
    /// <returns>Where the marker behind it stands; null where the data are damaged.</returns>
    public int? Walk(ReadOnlySpan<byte> file, int at)
    {
        EntropyBits bits = new(file, at);
        (int across, int down) = Parts.Length > 1 ? Frame.Units : (Parts[0].Component.Across, Parts[0].Component.Down);
        int done = 0, restarts = 0;
        Restart();
        for (int y = 0; y < down; y++)
        {
            for (int x = 0; x < across; x++, done++)
            {
                if (RestartInterval > 0 && done > 0 && done % RestartInterval == 0)
                {
                    if (bits.MarkerBehind() is not { } marker || file[marker + 1] != 0xD0 + restarts++ % 8) return null;
                    bits = new(file, marker + 2);
                    Restart();
                }

                if (!(Parts.Length > 1 ? TakeUnit(ref bits, x, y) : TakeBlock(ref bits, Parts[0], x, y)))
                    return null;
            }

            if (bits.IsBroken) return null;
        }

        return _emptyBlocks > 0 ? null : bits.MarkerBehind();
    }

    private void Restart()
    {
        foreach (JpegScanPart part in Parts) part.Component.Mean = 0;
        _emptyBlocks = 0;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool TakeUnit(ref EntropyBits bits, int x, int y)
    {
        foreach (JpegScanPart part in Parts)
        {
            (int across, int down) = (part.Component.AcrossUnit, part.Component.DownUnit);
            for (int j = 0; j < down; j++)
            {
                for (int i = 0; i < across; i++)
                {
                    if (!TakeBlock(ref bits, part, x * across + i, y * down + j)) return false;
                }
            }
        }

        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool TakeBlock(ref EntropyBits bits, JpegScanPart part, int column, int row)
    {
        if (!Frame.IsProgressive) return TakeAll(ref bits, part, column, row);
        if (First == 0)
        {
            if (High > 0) bits.Take(1);
            else if (!bits.TakeMean(part.Means!, part.Component) || !IsPossible(part.Component.Mean, part.Steps.Each[0].Most)) return false;
        }

        if (Last == 0) return true;
        ref ulong nonZero = ref part.Component.NonZero![row * part.Component.AcrossFilled + column];
        return High == 0 ? TakeSome(ref bits, part.Others!, part.Steps, ref nonZero) : Refine(ref bits, part.Others!, ref nonZero);
    }

    /// <summary>A whole block, in a picture of one scan.</summary>
    private bool TakeAll(ref EntropyBits bits, JpegScanPart part, int column, int row)
    {
        int* block = (int*)Marshal.UnsafeAddrOfPinnedArrayElement(_block, 0);
        int last = bits.TakeBlock(part, block);
        if (last < 0) return false;
        part.Painter?.Paint(column, row, block, last);
        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool TakeSome(ref EntropyBits bits, HuffmanCode code, JpegSteps steps, ref ulong nonZero)
    {
        if (_emptyBlocks > 0)
        {
            _emptyBlocks--;
            return true;
        }

        for (int k = First; k <= Last; k++)
        {
            int symbol = bits.Symbol(code), run = symbol >> 4, size = symbol & 15;
            if (size == 0 && run < 15)
            {
                _emptyBlocks = (1 << run) - 1 + bits.Take(run);
                return true;
            }

            k += run;
            if (k > Last) return false;
            if (size == 0) continue;
            if (!IsPossible(bits.Coefficient(size), steps.Each[k].Most)) return false;
            nonZero |= 1UL << k;
        }

        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool Refine(ref EntropyBits bits, HuffmanCode code, ref ulong nonZero)
    {
        int k = First;
        for (; k <= Last && _emptyBlocks == 0; k++)
        {
            int symbol = bits.Symbol(code), run = symbol >> 4, size = symbol & 15;
            if (size > 1) return false;
            if (size == 0 && run < 15)
            {
                _emptyBlocks = (1 << run) + bits.Take(run);
                break;
            }

            if (size == 1) bits.Take(1);
            for (; k <= Last; k++)
            {
                if ((nonZero & (1UL << k)) != 0) bits.Take(1);
                else if (run-- == 0) break;
            }

            if (k > Last) return false;
            if (size == 1) nonZero |= 1UL << k;
        }

        if (_emptyBlocks == 0) return true;
        _emptyBlocks--;
        for (; k <= Last; k++)
        {
            if ((nonZero & (1UL << k)) != 0) bits.Take(1);
        }

        return true;
    }

    private bool IsPossible(int coefficient, int most) => Math.Abs((long)coefficient << Low) <= most;
}
