using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Why a native library did not load, as the system's loader told it.</summary>
public static class LibraryFault
{
    /// <summary>
    /// How the GNU C library says that a function is nowhere. OpenCV's library lacks those of windows, which only a loader
    /// that binds all calls at once looks for.
    /// </summary>
    private const string UndefinedSymbol = "undefined symbol";

    /// <summary>The library, the cause and the cure; null for what is no fault of loading.</summary>
    /// <param name="fault">
    /// What was thrown. The loader's complaint lies under those of type initialisers and, where photos are read side by side, of
    /// several threads.
    /// </param>
    public static Refusal? Of(Exception fault) => fault switch
    {
        DllNotFoundException missing => Told(missing.Message),
        AggregateException several => several.InnerExceptions.Select(Of).FirstOrDefault(refusal => refusal is not null),
        _ => fault?.InnerException is { } inner ? Of(inner) : null,
    };

    private static Refusal Told(string complaint)
    {
        string library = complaint.Split('\'') is [_, var quoted, ..] ? quoted : "";
        string? telling = complaint.Split('\n').Skip(1).FirstOrDefault(line => line.Contains(':') && !IsProbe(line, library))?.Trim();
        string kind = telling switch
        {
            null => "missing",
            _ when telling.Contains(UndefinedSymbol, StringComparison.Ordinal) => "bound-at-once",
            _ => "other",
        };
        return Refusal.OfPlace(Codes.LibraryUnloadable, ("library", library), ("kind", kind), ("cause", telling ?? ""));
    }

    /// <summary>The loader tries several names and folders; that the file is not there says nothing.</summary>
    private static bool IsProbe(string line, string library) => line.Contains("No such", StringComparison.Ordinal)
        && Path.GetFileName(line.Split(':')[0]).Contains(library, StringComparison.Ordinal);
}
