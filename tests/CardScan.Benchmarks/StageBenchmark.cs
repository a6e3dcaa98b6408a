using BenchmarkDotNet.Attributes;
using CardScan.Model;
using CardScan.Vision;
using OpenCvSharp;

namespace CardScan.Benchmarks;

/// <summary>What all stages share: the photo, what the stages before hand over, and plain decoding as the baseline.</summary>
[MemoryDiagnoser]
public abstract class StageBenchmark
{
    private byte[] _bytes = [];

    internal Stages Stages { get; private set; } = null!;

    internal DecodedPhoto Decoded { get; private set; } = null!;

    internal MarkerSet Found { get; private set; } = null!;

    internal ValueList<RefinedMarker> Refined { get; private set; } = [];

    internal SolvedPose Solved { get; private set; } = null!;

    internal CardSurface Surface { get; private set; } = null!;

    internal LightField Field { get; private set; } = null!;

    internal Reading Reading { get; private set; } = null!;

    [GlobalSetup]
    public void Setup()
    {
        BenchmarkPhoto photo = BenchmarkPhoto.Given();
        _bytes = photo.Bytes;
        Stages = new(photo);
        Decoded = Stages.Decode();
        Found = Stages.Find(Decoded);
        Refined = Stages.Refine(Decoded, Found);
        Solved = Stages.Solve(Decoded, Refined);
        Surface = Stages.Surface(Decoded, Solved);
        Field = Stages.Light(Surface);
        Reading = Stages.Read();
    }

    [GlobalCleanup]
    public void Cleanup() => Decoded.Dispose();

    [Benchmark(Baseline = true)]
    public void PlainDecode() => Cv2.ImDecode(_bytes, ImreadModes.Color).Dispose();
}

public class DecodeBenchmark : StageBenchmark
{
    [Benchmark]
    public void Decode() => Stages.Decode().Dispose();
}

public class FindBenchmark : StageBenchmark
{
    [Benchmark]
    public object Find() => Stages.Find(Decoded);
}

public class RefineBenchmark : StageBenchmark
{
    [Benchmark]
    public object Refine() => Stages.Refine(Decoded, Found);
}

public class PoseBenchmark : StageBenchmark
{
    [Benchmark]
    public object Pose() => Stages.Solve(Decoded, Refined);
}

public class LightBenchmark : StageBenchmark
{
    [Benchmark]
    public object Light() => Stages.Light(Surface);
}

public class CellsBenchmark : StageBenchmark
{
    [Benchmark]
    public object Cells() => Stages.Cells(Surface, Field, Solved);
}

public class ScoreBenchmark : StageBenchmark
{
    [Benchmark]
    public object Score() => Stages.Score(Reading);
}

public class WholeBenchmark : StageBenchmark
{
    [Benchmark]
    public object BytesToRecommendation() => Stages.Score(Stages.Read());
}
