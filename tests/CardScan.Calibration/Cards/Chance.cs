using MathNet.Numerics.Distributions;

namespace CardScan.Calibration;

/// <summary>Normal chance that is the same on every machine and version: SplitMix64 and Box–Muller.</summary>
internal sealed class Chance(int seed)
{
    // Seeds are scattered first: neighbouring seeds would otherwise give one and the same sequence, shifted.
    private ulong _state = Scattered((ulong)seed * 0xD1342543DE82EF95 + 0x1234567);

    /// <summary>Chance of its own for a name, the same in every run.</summary>
    public static Chance Of(string name) => new(StableHash(name));

    public double Uniform()
    {
        _state += 0x9E3779B97F4A7C15;
        return (Scattered(_state) >> 11) / (double)(1UL << 53);
    }

    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Uniform())) * Math.Cos(2 * Math.PI * Uniform());

    /// <summary>Student's t of a few degrees of freedom, scaled to the quartiles of a normal of standard deviation 1.</summary>
    public double Student(int freedom)
    {
        double squares = 0, normal = Normal();
        for (int i = 0; i < freedom; i++) squares += Math.Pow(Normal(), 2);
        return normal / Math.Sqrt(squares / freedom)
            * MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, 0.75) / StudentT.InvCDF(0, 1, freedom, 0.75);
    }

    public double Between(double from, double to) => from + (to - from) * Uniform();

    /// <summary>As likely in every ratio.</summary>
    public double ByRatio(double from, double to) => from * Math.Pow(to / from, Uniform());

    public bool Toss() => Uniform() < 0.5;

    /// <summary>FNV-1a: the platform's own hash of text differs from run to run.</summary>
    private static int StableHash(string text) => unchecked((int)text.Aggregate(2166136261, (hash, letter) => (hash ^ letter) * 16777619));

    private static ulong Scattered(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
