using System.Buffers.Binary;

namespace CardScan.Model;

/// <summary>Tells DNG files, a phone's raw photos, from other TIFF files, which begin alike.</summary>
public static class DngMark
{
    /// <summary>Version of DNG, in the first directory of every such file (Adobe, DNG specification 1.7.1.0, "DNGVersion").</summary>
    private const int VersionTag = 50706;

    private const int EntryBytes = 12;

    /// <summary>True for a DNG file.</summary>
    /// <param name="file">Its bytes, or its first ones; a directory that is not among them tells nothing.</param>
    public static bool IsIn(ReadOnlySpan<byte> file)
    {
        bool isBig = file.StartsWith("MM\0*"u8);
        if (file.Length < 8 || !(isBig || file.StartsWith("II*\0"u8))) return false;
        uint at = isBig ? BinaryPrimitives.ReadUInt32BigEndian(file[4..]) : BinaryPrimitives.ReadUInt32LittleEndian(file[4..]);
        if (at > file.Length - 2) return false;
        ReadOnlySpan<byte> entries = file[(int)(at + 2)..];
        for (int left = Number(file[(int)at..], isBig); left > 0 && entries.Length >= EntryBytes; left--, entries = entries[EntryBytes..])
        {
            if (Number(entries, isBig) == VersionTag) return true;
        }

        return false;
    }

    private static int Number(ReadOnlySpan<byte> bytes, bool isBig) =>
        isBig ? BinaryPrimitives.ReadUInt16BigEndian(bytes) : BinaryPrimitives.ReadUInt16LittleEndian(bytes);
}
