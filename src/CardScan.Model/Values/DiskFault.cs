using CardScan.Language;

namespace CardScan.Model;

/// <summary>What a disk could not do, told alike wherever it happens.</summary>
public static class DiskFault
{
    // errno of Linux and macOS, and Windows' ERROR_DISK_FULL and ERROR_HANDLE_DISK_FULL.
    private const int NoSpace = 28, LinuxQuota = 122, MacQuota = 69, TooLarge = 27, ReadOnlyDisk = 30,
        WindowsFull = unchecked((int)0x80070070), WindowsHandleFull = unchecked((int)0x80070027);

    /// <summary>True where a file could not be written because its disk, or the share of it that one may use, is full.</summary>
    /// <param name="exception">What was thrown.</param>
    public static bool IsFull(Exception exception) => exception is IOException
    {
        HResult: NoSpace or LinuxQuota or MacQuota or WindowsFull or WindowsHandleFull,
    };

    /// <summary>
    /// True where only writing can have met the fault: a disk that is full, a limit on the size of files, a disk mounted read-only.
    /// </summary>
    /// <param name="exception">What was thrown.</param>
    public static bool IsOfWriting(Exception exception) =>
        // For a file beyond the limit of its size the runtime has an exception of another kind.
        IsFull(exception) || exception is IOException { HResult: TooLarge or ReadOnlyDisk }
            or ArgumentOutOfRangeException { ParamName: "value" };

    /// <summary>Why a place cannot be written, with what to do there; the place is named.</summary>
    /// <param name="exception">What was thrown.</param>
    /// <param name="place">The folder or file.</param>
    /// <param name="kind">What it is for: <c>output</c>, <c>export</c> or <c>temporary</c>.</param>
    /// <param name="otherwise">The refusal where the disk is not full.</param>
    public static Refusal Of(Exception exception, string place, string kind, Func<Refusal> otherwise)
    {
        ArgumentNullException.ThrowIfNull(otherwise);
        return IsFull(exception) ? Refusal.OfPlace(Codes.DiskFull, ("place", place), ("kind", kind)) : otherwise();
    }

    /// <summary>Why the temporary folder cannot be written.</summary>
    /// <param name="exception">What was thrown.</param>
    public static Refusal OfTemporary(Exception exception)
    {
        ArgumentNullException.ThrowIfNull(exception);
        string folder = Path.GetTempPath();
        return Of(exception, folder, "temporary", () =>
            Refusal.OfPlace(Codes.TemporaryUnwritable, ("folder", folder), ("cause", exception.Message.TrimEnd('.'))));
    }
}
