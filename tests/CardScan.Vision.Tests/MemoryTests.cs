using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

[CollectionDefinition(nameof(MemoryTests), DisableParallelization = true)]
public sealed class MemoryTestsRunAlone;

[Collection(nameof(MemoryTests))]
public sealed class MemoryTests
{
    [Fact]
    public void Reading_one_photo_again_and_again_takes_no_more_memory()
    {
        byte[] photo = PhotoFiles.Birch, wide = PhotoFiles.WithProfile(PhotoFiles.Birch, PhotoFiles.DisplayP3);
        PlanFile plan = PhotoFiles.BirchPlan;
        for (int i = 0; i < 10; i++) ReadBoth();
        double before = ResidentMegabytes();

        for (int i = 0; i < 30; i++) ReadBoth();

        // One decoded picture forgotten a time would be 30 × 5.8 MB.
        Assert.InRange(ResidentMegabytes() - before, double.NegativeInfinity, 40);

        void ReadBoth()
        {
            Assert.False(Photographed.Read(photo, plan).IsRefused);
            Assert.False(Photographed.Read(wide, plan).IsRefused);
        }
    }

    /// <summary>Memory of the process as the system counts it, native memory included.</summary>
    private static double ResidentMegabytes()
    {
        for (int i = 0; i < 3; i++)
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
        }

        using System.Diagnostics.Process self = System.Diagnostics.Process.GetCurrentProcess();
        return self.WorkingSet64 / 1e6;
    }
}
