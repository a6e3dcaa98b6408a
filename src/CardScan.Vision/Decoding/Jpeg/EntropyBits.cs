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
    public int Coefficient(int bits) => bits == 0 ? 0 : Signed(Take(bits), bits);

    private static int Signed(int value, int bits) => value >= 1 << (bits - 1) ? value : value - (1 << bits) + 1;

    /// <summary>Takes all coefficients of a block but its mean, as fast as can be: most of a file are these.</summary>
    /// <param name="code">Their code.</param>
    /// <param name="steps">Their steps.</param>
    /// <param name="block">Gets them, row by row, times their steps; zero before.</param>
    /// <returns>The last that is not zero, 0 where there is none; negative where there are too many, or one is too large.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int TakeBlock(HuffmanCode code, JpegSteps steps, Span<int> block)
    {
        // In locals, which the processor keeps in registers.
        (ulong bits, int count) = (_bits, _count);
        ReadOnlySpan<JpegStep> of = steps.Each;
        int last = 0;
        for (int k = 1; k < of.Length; k++)
        {
            if (count < 32)
            {
                (_bits, _count) = (bits, count);
                Fill();
                (bits, count) = (_bits, _count);
            }

            int found = code.Find((int)(bits >> (count - HuffmanCode.MostBits)) & 0xFFFF), size = found & 15;
            count -= (found >> 8) + size;
            if (size == 0)
            {
                if ((found & 0xFF) == 0xF0)
                {
                    k += 15;
                    continue;
                }

                if ((found & 0xFF) != 0 || found == 0) last = -1;
                break;
            }

            k += (found >> 4) & 15;
            int value = Signed((int)(bits >> count) & ((1 << size) - 1), size);
            if (k >= of.Length || (size > of[k].SafeBits && Math.Abs(value) > of[k].Most))
            {
                last = -1;
                break;
            }

            block[of[k].Place] = value * of[k].Size;
            last = k;
        }

        (_bits, _count) = (bits, count);
        return last;
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
