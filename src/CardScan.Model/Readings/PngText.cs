using System.Buffers.Binary;
using System.Text;

namespace CardScan.Model;

/// <summary>Puts texts into a finished PNG file, so that the picture alone tells what it shows.</summary>
/// <remarks>
/// Chunk iTXt of the PNG specification (ISO/IEC 15948, W3C Recommendation, "iTXt International textual data"): keyword,
/// uncompressed UTF-8. The picture's own chunks stay as they are.
/// </remarks>
public static class PngText
{
    /// <summary>The signature and the header chunk IHDR, which must come first: 8 + 4 + 4 + 13 + 4 bytes.</summary>
    private const int HeaderBytes = 33;

    /// <summary>Adds texts behind the header.</summary>
    /// <param name="png">A PNG file.</param>
    /// <param name="texts">Keyword (Latin letters, digits and spaces, at most 79) and text.</param>
    /// <returns>The file with the texts.</returns>
    public static byte[] Add(ReadOnlySpan<byte> png, IEnumerable<(string Keyword, string Text)> texts)
    {
        ArgumentNullException.ThrowIfNull(texts);
        using MemoryStream file = new();
        file.Write(png[..HeaderBytes]);
        foreach ((string keyword, string text) in texts) file.Write(Chunk(keyword, text));
        file.Write(png[HeaderBytes..]);
        return file.ToArray();
    }

    private static byte[] Chunk(string keyword, string text)
    {
        // Keyword, its end, no compression (two bytes), empty language and translated keyword (their ends alone), text.
        byte[] data = [.. "iTXt"u8, .. Encoding.Latin1.GetBytes(keyword), 0, 0, 0, 0, 0, .. Encoding.UTF8.GetBytes(text)];
        byte[] chunk = new byte[4 + data.Length + 4];
        BinaryPrimitives.WriteInt32BigEndian(chunk, data.Length - 4);
        data.CopyTo(chunk, 4);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(4 + data.Length), Crc32(data));
        return chunk;
    }

    /// <summary>CRC-32 with polynomial 0xEDB88320, as the PNG specification's annex D has it.</summary>
    private static uint Crc32(ReadOnlySpan<byte> data)
    {
        uint crc = 0xFFFFFFFF;
        foreach (byte value in data)
        {
            crc ^= value;
            for (int bit = 0; bit < 8; bit++) crc = (crc & 1) == 1 ? (crc >> 1) ^ 0xEDB88320 : crc >> 1;
        }

        return ~crc;
    }
}
