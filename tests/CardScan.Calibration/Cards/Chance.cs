namespace CardScan.Calibration;

/// <summary>Normal chance that is the same on every machine and version: SplitMix64 and Box–Muller.</summary>
internal sealed class Chance(int seed)
{
    // Seeds are scattered first: neighbouring seeds would otherwise give one and the same sequence, shifted.
    private ulong _state = Scattered((ulong)seed * 0xD1342543DE82EF95 + 0x1234567);

    public double Uniform()
    {
        _state += 0x9E3779B97F4A7C15;
        return (Scattered(_state) >> 11) / (double)(1UL << 53);
    }

    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Uniform())) * Math.Cos(2 * Math.PI * Uniform());

    private static ulong Scattered(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
