using System.Runtime.CompilerServices;

namespace CardScan.Vision;

/// <summary>A Huffman code of a JPEG file (ITU-T T.81, annexes C and F).</summary>
internal sealed class HuffmanCode
{
    public const int MostBits = 16;

    /// <summary>Codes up to this length are found at once; nearly all are.</summary>
    public const int QuickBits = 11;

    /// <summary>
    /// For every beginning of <see cref="QuickBits"/> bits, length and symbol of the code that it begins with; 0 where it
    /// is longer.
    /// </summary>
    private readonly ushort[] _quick = new ushort[1 << QuickBits];

    private readonly int[] _coefficients = new int[1 << QuickBits];

    /// <summary>By length: one more than the largest code, left in 16 bits; and what turns a code into the place of its symbol.</summary>
    private readonly int[] _end = new int[MostBits + 1], _offset = new int[MostBits + 1];

    private readonly byte[] _symbols;

    private HuffmanCode(byte[] symbols) => _symbols = symbols;

    /// <summary>Builds a code; null where no such code can be.</summary>
    /// <param name="counts">Number of codes of each length, 1 to 16.</param>
    /// <param name="symbols">The symbols in the order of their codes.</param>
    public static HuffmanCode? Of(ReadOnlySpan<byte> counts, ReadOnlySpan<byte> symbols)
    {
        HuffmanCode made = new(symbols.ToArray());
        int code = 0, place = 0;
        for (int length = 1; length <= MostBits; length++, code <<= 1)
        {
            made._offset[length] = place - code;
            for (int i = 0; i < counts[length - 1]; i++, code++, place++)
            {
                if (code >= 1 << length) return null;
                if (length > QuickBits) continue;
                int spare = QuickBits - length;
                made._quick.AsSpan(code << spare, 1 << spare).Fill((ushort)(length << 8 | symbols[place]));
            }

            made._end[length] = code << (MostBits - length);
        }

        made.FindCoefficients();
        return made;
    }

    /// <summary>Turns the bits of a coefficient into its value: the lower half of their range is negative.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int Signed(int value, int bits) => value >= 1 << (bits - 1) ? value : value - (1 << bits) + 1;

    /// <summary>
    /// For every beginning of <see cref="QuickBits"/> bits, the symbol and the coefficient that it begins with: the value in the
    /// upper 16 bits, then 4 each of the zeros before it and of its size, then 8 of the length of both; 0 where they are longer.
    /// </summary>
    public ReadOnlySpan<int> Coefficients => _coefficients;

    private void FindCoefficients()
    {
        for (int bits = 0; bits < _quick.Length; bits++)
        {
            int size = _quick[bits] & 15, run = _quick[bits] >> 4 & 15, length = (_quick[bits] >> 8) + size;
            if (_quick[bits] == 0 || length > QuickBits) continue;
            int value = size == 0 ? 0 : Signed(bits >> (QuickBits - length) & ((1 << size) - 1), size);
            _coefficients[bits] = value << 16 | run << 12 | size << 8 | length;
        }
    }

    /// <summary>The code that 16 bits begin with: its length times 256 and its symbol; 0 where there is none.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public int Find(int bits)
    {
        int quick = _quick[bits >> (MostBits - QuickBits)];
        return quick != 0 ? quick : FindLonger(bits);
    }

    private int FindLonger(int bits)
    {
        for (int length = QuickBits + 1; length <= MostBits; length++)
        {
            if (bits < _end[length]) return length << 8 | _symbols[(bits >> (MostBits - length)) + _offset[length]];
        }

        return 0;
    }
}
