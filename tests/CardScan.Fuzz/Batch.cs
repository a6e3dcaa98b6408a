using System.Diagnostics;

namespace CardScan.Fuzz;

/// <summary>Something that takes what it is given: the input for a number, and what is wrong with the answer.</summary>
internal interface ITarget : IDisposable
{
    /// <summary>An input; the same for the same random numbers.</summary>
    public byte[] Make(Random random);

    /// <summary>What is wrong with how it was taken; null where nothing is. Exceptions are findings too.</summary>
    public string? Judge(byte[] input);

    /// <summary>Deletes what it left on the disk, if anything.</summary>
    void IDisposable.Dispose()
    {
    }
}

/// <summary>Some inputs, one after the other, in this process.</summary>
internal static class Batch
{
    /// <summary>More memory than this for one photo of a few megapixels says that a header was believed.</summary>
    private const double MostMegabytes = 2500;

    /// <summary>Exit code of a batch in which something was found.</summary>
    public const int Found = 4;

    /// <summary>Runs a batch; each number is written before its input is tried, so that a dead process tells where it died.</summary>
    public static int Run(string name, int seed, int from, int count, TextWriter output)
    {
        using ITarget target = Targets.Make(name);
        int findings = 0;
        for (int i = from; i < from + count; i++)
        {
            output.WriteLine($"try {i}");
            output.Flush();
            if (Try(target, Input(target, seed, i)) is not { } finding) continue;
            output.WriteLine($"found {i} {finding.ReplaceLineEndings(" | ")}");
            findings++;
        }

        return findings == 0 ? 0 : Found;
    }

    /// <summary>The input of a number.</summary>
    public static byte[] Input(ITarget target, int seed, int number) => target.Make(new Random(unchecked(seed * 1_000_003 + number)));

    private static string? Try(ITarget target, byte[] input)
    {
        try
        {
            string? finding = target.Judge(input);
            using Process self = Process.GetCurrentProcess();
            return finding ?? (self.PeakWorkingSet64 / 1e6 > MostMegabytes
                ? $"the process has grown to {self.PeakWorkingSet64 / 1e6:F0} MB"
                : null);
        }
#pragma warning disable CA1031 // whatever is thrown is what is looked for
        catch (Exception e)
#pragma warning restore CA1031
        {
            return e.ToString();
        }
    }
}
