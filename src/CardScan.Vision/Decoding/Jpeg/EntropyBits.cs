using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace CardScan.Vision;

/// <summary>The bits of a scan, up to the next marker (ITU-T T.81, F.2.2.5: a zero is stuffed behind every byte of ones).</summary>
/// <param name="file">The file.</param>
/// <param name="start">Where the bits begin.</param>
internal ref struct EntropyBits(ReadOnlySpan<byte> file, int start)
{
    /// <summary>Zero bytes that encoders are let put before a marker, to fill a word.</summary>
    private const int MostPadding = 4;

    /// <summary>So many zeros, and a zero after them, without a coefficient behind (T.81, F.1.2.2.1).</summary>
    private const int MostZeros = 15;

    private readonly ReadOnlySpan<byte> _file = file;
    private int _at = start;
    private ulong _bits;
    private int _count, _lent;

    /// <summary>True once more bits were taken than there are, or a code that is none was met.</summary>
    public bool IsBroken { get; private set; }

    /// <summary>Takes a symbol.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public int Symbol(HuffmanCode code)
    {
        if (_count < 32) Fill();
        int found = code.Find((int)(_bits >> (_count - HuffmanCode.MostBits)) & 0xFFFF);
        if (found == 0) IsBroken = true;
        _count -= found >> 8;
        return found & 0xFF;
    }

    /// <summary>Takes a number of bits, 0 to 16.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public int Take(int bits)
    {
        if (_count < 32) Fill();
        _count -= bits;
        return (int)(_bits >> _count) & ((1 << bits) - 1);
    }

    /// <summary>Takes a coefficient of so many bits: the lower half of its range is negative.</summary>
    public int Coefficient(int bits) => bits == 0 ? 0 : HuffmanCode.Signed(Take(bits), bits);

    /// <summary>Takes all coefficients of a block, as fast as can be: most of a file are these.</summary>
    /// <param name="part">What it belongs to.</param>
    /// <param name="block">Gets them, row by row, times their steps; zero before. Has room for 64.</param>
    /// <returns>
    /// The last that is not zero, 0 where there is none but the mean; negative where there are too many, or one is too large.
    /// </returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public unsafe int TakeBlock(JpegScanPart part, int* block)
    {
        ReadOnlySpan<JpegStep> steps = part.Steps.Each;
        if (!TakeMean(part.Means!, part.Component) || Math.Abs(part.Component.Mean) > steps[0].Most) return -1;
        block[0] = part.Component.Mean * steps[0].Size;

        // In locals, which the processor keeps in registers.
        (ulong bits, int count) = (_bits, _count);
        ReadOnlySpan<int> coefficients = part.Others!.Coefficients;
        int last = 0;
        for (int k = 1; k < steps.Length; k++)
        {
            if (count < 32)
            {
                (_bits, _count) = (bits, count);
                Fill();
                (bits, count) = (_bits, _count);
            }

            int found = coefficients[(int)(bits >> (count - HuffmanCode.QuickBits)) & ((1 << HuffmanCode.QuickBits) - 1)];
            int value = found >> 16, run = found >> 12 & 15, size = found >> 8 & 15;
            if (found != 0) count -= found & 0xFF;
            else
            {
                found = part.Others!.Find((int)(bits >> (count - HuffmanCode.MostBits)) & 0xFFFF);
                if (found == 0) return -1;
                (run, size) = (found >> 4 & 15, found & 15);
                count -= (found >> 8) + size;
                value = HuffmanCode.Signed((int)(bits >> count) & ((1 << size) - 1), size);
            }

            k += run;
            if (size == 0)
            {
                if (run == MostZeros) continue;
                if (run != 0) return -1;
                break;
            }

            if (k >= steps.Length) return -1;
            ref readonly JpegStep step = ref steps[k];
            if (size > step.SafeBits && Math.Abs(value) > step.Most) return -1;
            block[step.Place] = value * step.Size;
            last = k;
        }

        (_bits, _count) = (bits, count);
        return last;
    }

    /// <summary>Takes a mean, which is stored as the difference from the one before; false where there is none so large.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool TakeMean(HuffmanCode code, JpegComponent component)
    {
        if (_count < 32) Fill();
        int found = code.Coefficients[(int)(_bits >> (_count - HuffmanCode.QuickBits)) & ((1 << HuffmanCode.QuickBits) - 1)];
        bool isQuick = found != 0 && (found >> 12 & 15) == 0;
        if (!isQuick) return TakeLongMean(code, component);
        _count -= found & 0xFF;
        component.Mean += found >> 16;
        return true;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private bool TakeLongMean(HuffmanCode code, JpegComponent component)
    {
        int size = Symbol(code);
        if (size > HuffmanCode.MostBits) return false;
        component.Mean += Coefficient(size);
        return true;
    }

    /// <summary>Where the marker behind the bits stands; null where they were too few, or more than a few are left.</summary>
    public int? MarkerBehind()
    {
        if (IsBroken || _count < _lent) return null;

        // Whole bytes that were read ahead and not used are among the left ones; a stuffed zero is not.
        int left = (_count - _lent) / 8;
        for (int i = 0; i < left; i++)
        {
            if (((_bits >> (_lent + 8 * i)) & 0xFF) != 0) return null;
        }

        int at = _at;
        while (at < _file.Length && _file[at] == 0 && left <= MostPadding) (at, left) = (at + 1, left + 1);
        if (left > MostPadding) return null;
        while (at + 1 < _file.Length && _file[at] == 0xFF && _file[at + 1] == 0xFF) at++;
        return at + 1 < _file.Length && _file[at] == 0xFF && _file[at + 1] != 0 ? at : null;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Fill()
    {
        if (_at + 4 <= _file.Length)
        {
            uint four = BinaryPrimitives.ReadUInt32BigEndian(_file[_at..]);
            // True where none of the four bytes is 0xFF.
            if (((~four - 0x01010101u) & four & 0x80808080u) == 0)
            {
                (_bits, _count, _at) = (_bits << 32 | four, _count + 32, _at + 4);
                return;
            }
        }

        FillByBytes();
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private void FillByBytes()
    {
        while (_count <= 48) FillByte();
    }

    private void FillByte()
    {
        int next = _at < _file.Length ? _file[_at] : -1;
        bool isMarker = next < 0 || (next == 0xFF && (_at + 1 >= _file.Length || _file[_at + 1] != 0));
        if (isMarker)
        {
            // Lent, to be given back: whoever uses them has read past the end.
            (_bits, _count, _lent) = (_bits << 8, _count + 8, _lent + 8);
            if (_lent > _count + 64) IsBroken = true;
            return;
        }

        (_bits, _count, _at) = (_bits << 8 | (uint)next, _count + 8, _at + (next == 0xFF ? 2 : 1));
    }
}
