using System.Runtime.InteropServices;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>What the program needs from the system.</summary>
public static class SystemLibraries
{
    /// <summary>
    /// What .NET computes checksums with on Linux: it takes the first of these that loads. There are older ones, but on no system
    /// whose C library is new enough.
    /// </summary>
    private static readonly string[] OpenSsl = ["libssl.so.3", "libssl.so.1.1"];

    /// <summary>Looks for OpenSSL: without it .NET ends the program at the first checksum, in words that help nobody.</summary>
    /// <returns>Null where it is there, or where the system is not Linux and needs none.</returns>
    public static Refusal? Lack() => !OperatingSystem.IsLinux() || OpenSsl.Any(name => NativeLibrary.TryLoad(name, out _))
        ? null : Refusal.OfPlace(Codes.OpenSslMissing, ("library", OpenSsl[0]));
}
