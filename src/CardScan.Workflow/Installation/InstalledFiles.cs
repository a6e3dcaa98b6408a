using System.Buffers.Binary;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>The native libraries beside the program.</summary>
public static class InstalledFiles
{
    private const int HeaderLength = 64, SectionsAt = 40, SectionSizeAt = 58, SectionCountAt = 60;

    /// <summary>
    /// Finds a library that was cut short, by a full disk or a broken download: the system would end the program without a word when
    /// it loads it.
    /// </summary>
    /// <param name="folder">Folder of the program.</param>
    /// <returns>Null where all are whole, or are in another format than Linux's.</returns>
    /// <remarks>
    /// A file of the format ELF ends with its table of sections, whose place its head tells (System V ABI, "ELF Header").
    /// </remarks>
    public static Refusal? Damage(string folder) => Libraries(folder).FirstOrDefault(IsCutShort) is { } file
        ? Refusal.OfPlace(Codes.ProgramDamaged, ("file", file)) : null;

    /// <summary>Paths of the native libraries of Linux in the program's folder and those below.</summary>
    /// <param name="folder">Folder of the program.</param>
    internal static IEnumerable<string> Libraries(string folder) => Directory.EnumerateFiles(folder, "*.so", SearchOption.AllDirectories);

    private static bool IsCutShort(string file)
    {
        using FileStream stream = File.OpenRead(file);
        Span<byte> head = stackalloc byte[HeaderLength];
        if (stream.ReadAtLeast(head, HeaderLength, throwOnEndOfStream: false) < HeaderLength) return true;
        if (!head.StartsWith((ReadOnlySpan<byte>)[0x7f, (byte)'E', (byte)'L', (byte)'F', 2, 1])) return true;
        int sections = BinaryPrimitives.ReadUInt16LittleEndian(head[SectionCountAt..]);
        int size = BinaryPrimitives.ReadUInt16LittleEndian(head[SectionSizeAt..]);
        return stream.Length < BinaryPrimitives.ReadInt64LittleEndian(head[SectionsAt..]) + (long)sections * size;
    }
}
