using System.Buffers.Binary;

namespace CardScan.Archive;

/// <summary>
/// The list of entries at the end of a zip file, looked at before any of it is held in memory. Places of the fields: PKWARE's
/// APPNOTE.TXT, 4.3.12 and 4.3.14 to 4.3.16; from memory.
/// </summary>
internal static class ZipDirectory
{
    private const int HeaderBytes = 46, EndBytes = 22, LocatorBytes = 20, MostCommentBytes = ushort.MaxValue;

    /// <summary>Counts the entries, and tells how many bytes one of them takes packed.</summary>
    /// <param name="zip">The file; where it stands afterwards does not matter.</param>
    /// <param name="name">Name of the one, plain letters.</param>
    /// <returns>Zero entries where it is no zip file; zero bytes where it has no such entry.</returns>
    public static (long Entries, long PackedBytes) Look(Stream zip, string name)
    {
        if (StartOf(zip) is not { } start) return default;
        zip.Position = start;
        long entries = 0, packed = 0;
        Span<byte> header = stackalloc byte[HeaderBytes], found = stackalloc byte[name.Length];
        while (zip.ReadAtLeast(header, HeaderBytes, throwOnEndOfStream: false) == HeaderBytes && header.StartsWith("PK\u0001\u0002"u8))
        {
            entries++;
            int length = Short(header[28..]), more = Short(header[30..]) + Short(header[32..]);
            if (length == name.Length)
            {
                int read = zip.ReadAtLeast(found, length, throwOnEndOfStream: false);
                if (read == length && found.SequenceEqual(System.Text.Encoding.ASCII.GetBytes(name)))
                    packed = BinaryPrimitives.ReadUInt32LittleEndian(header[20..]);
                length -= read;
            }

            zip.Seek(length + more, SeekOrigin.Current);
        }

        return (entries, packed);
    }

    /// <summary>Where the list starts: what stands last in the file tells, and before it the same in more digits.</summary>
    private static long? StartOf(Stream zip)
    {
        byte[] tail = new byte[(int)Math.Min(zip.Length, LocatorBytes + EndBytes + MostCommentBytes)];
        zip.Position = zip.Length - tail.Length;
        zip.ReadExactly(tail);
        int end = tail.AsSpan().LastIndexOf("PK\u0005\u0006"u8);
        if (end < 0 || tail.Length - end < EndBytes) return null;
        long start = BinaryPrimitives.ReadUInt32LittleEndian(tail.AsSpan(end + 16));
        if (start == uint.MaxValue && end >= LocatorBytes && tail.AsSpan(end - LocatorBytes).StartsWith("PK\u0006\u0007"u8))
            start = LongStart(zip, BinaryPrimitives.ReadInt64LittleEndian(tail.AsSpan(end - LocatorBytes + 8)));
        return start >= 0 && start < zip.Length ? start : null;
    }

    private static long LongStart(Stream zip, long at)
    {
        byte[] end = new byte[56];
        if (at < 0 || at > zip.Length - end.Length) return -1;
        zip.Position = at;
        zip.ReadExactly(end);
        return end.AsSpan().StartsWith("PK\u0006\u0006"u8) ? BinaryPrimitives.ReadInt64LittleEndian(end.AsSpan(48)) : -1;
    }

    private static int Short(ReadOnlySpan<byte> bytes) => BinaryPrimitives.ReadUInt16LittleEndian(bytes);
}
