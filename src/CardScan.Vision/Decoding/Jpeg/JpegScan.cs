using System.Runtime.CompilerServices;

namespace CardScan.Vision;

/// <summary>One scan of a JPEG picture, walked symbol by symbol (ITU-T T.81, annexes F and G): no picture is made of it.</summary>
/// <remarks>
/// Its methods are compiled at their best from the first call on: most processes read one photo, and end before it is known
/// that they are called often.
/// </remarks>
internal sealed class JpegScan
{
    public required JpegFrame Frame { get; init; }

    /// <summary>
    /// Its components, each with its codes for means and for the rest; a code that the scan does not need may be missing.
    /// </summary>
    public required (JpegComponent Component, HuffmanCode? Means, HuffmanCode? Others)[] Parts { get; init; }

    /// <summary>The four tables of quantiser steps.</summary>
    public required JpegSteps?[] Steps { get; init; }

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

    /// <summary>Walks the scan.</summary>
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

                if (!(Parts.Length > 1 ? TakeUnit(ref bits, x, y) : TakeBlock(ref bits, 0, y * Parts[0].Component.AcrossFilled + x)))
                    return null;
            }

            if (bits.IsBroken) return null;
        }

        return _emptyBlocks > 0 ? null : bits.MarkerBehind();
    }

    private void Restart()
    {
        foreach ((JpegComponent component, _, _) in Parts) component.Mean = 0;
        _emptyBlocks = 0;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool TakeUnit(ref EntropyBits bits, int x, int y)
    {
        for (int part = 0; part < Parts.Length; part++)
        {
            JpegComponent component = Parts[part].Component;
            for (int j = 0; j < component.DownUnit; j++)
            {
                int row = (y * component.DownUnit + j) * component.AcrossFilled + x * component.AcrossUnit;
                for (int i = 0; i < component.AcrossUnit; i++)
                {
                    if (!TakeBlock(ref bits, part, row + i)) return false;
                }
            }
        }

        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool TakeBlock(ref EntropyBits bits, int part, int block)
    {
        (JpegComponent component, HuffmanCode? means, HuffmanCode? others) = Parts[part];
        JpegSteps steps = Steps[component.Steps]!;
        if (First == 0)
        {
            if (High > 0) bits.Take(1);
            else if (!TakeMean(ref bits, component, means!, steps)) return false;
        }

        if (Last == 0) return true;
        if (!Frame.IsProgressive) return bits.TakeBlock(others!, steps.SafeBits, steps.Most);
        ref ulong nonZero = ref component.NonZero![block];
        return High == 0 ? TakeSome(ref bits, others!, steps, ref nonZero) : Refine(ref bits, others!, ref nonZero);
    }

    private bool TakeMean(ref EntropyBits bits, JpegComponent component, HuffmanCode code, JpegSteps steps)
    {
        int size = bits.Symbol(code);
        if (size > HuffmanCode.MostBits) return false;
        component.Mean += bits.Coefficient(size);
        return IsPossible(component.Mean, steps.Most[0]);
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
            if (!IsPossible(bits.Coefficient(size), steps.Most[k])) return false;
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
