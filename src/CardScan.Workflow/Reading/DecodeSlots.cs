namespace CardScan.Workflow;

/// <summary>How many photos the process holds decoded at once, whatever cards they show: as many as processors and memory allow.</summary>
internal static class DecodeSlots
{
    /// <summary>Memory that a photo takes while it is read, bytes: one of 12 megapixels with everything made from it, rounded up.</summary>
    private const long BytesPerPhoto = 400L * 1000 * 1000;

    /// <summary>The most, one or more.</summary>
    public static int Most { get; } =
        (int)Math.Clamp(GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / BytesPerPhoto, 1, Environment.ProcessorCount);

    private static readonly SemaphoreSlim Places = new(Most);

    /// <summary>Waits for a place for one photo; disposing of it leaves it.</summary>
    public static IDisposable Enter()
    {
        Places.Wait();
        return new DecodeSlot();
    }

    private sealed class DecodeSlot : IDisposable
    {
        public void Dispose() => Places.Release();
    }
}
