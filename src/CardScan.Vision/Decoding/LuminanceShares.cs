using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace CardScan.Vision;

/// <summary>What the codes of a pixel's channels add to its linear luminance.</summary>
/// <remarks>Codes that chroma takes beyond the ends of the scale, by less than its length, count as the ends.</remarks>
internal sealed unsafe class LuminanceShares
{
    private const int Codes = 256, Held = 3 * Codes;

    /// <summary>Pinned, since asking whether an index lies inside takes longer than what is done with what lies there.</summary>
    private readonly double[] _held = GC.AllocateUninitializedArray<double>(3 * Held, pinned: true);

    /// <summary>Those of code 0.</summary>
    private readonly double* _red, _green, _blue;

    /// <summary>Tells the shares.</summary>
    /// <param name="linearOfCode">Linear light of each code, 0 to 1.</param>
    public LuminanceShares(float[] linearOfCode)
    {
        for (int i = 0; i < Held; i++)
        {
            float linear = linearOfCode[Math.Clamp(i - Codes, 0, Codes - 1)];
            (_held[i], _held[Held + i], _held[2 * Held + i]) = (0.0722 * linear, 0.7152 * linear, 0.2126 * linear);
        }

        _blue = (double*)Marshal.UnsafeAddrOfPinnedArrayElement(_held, Codes);
        _green = _blue + Held;
        _red = _green + Held;
    }

    /// <summary>Linear luminance of a pixel, 0 to 1.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Of(int red, int green, int blue) => _blue[blue] + _green[green] + _red[red];
}
