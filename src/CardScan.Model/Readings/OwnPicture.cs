using System.Buffers.Binary;

namespace CardScan.Model;

/// <summary>What every picture that CardScan writes says of itself, so that none of them is ever read as a photo.</summary>
public static class OwnPicture
{
    /// <summary>The signature and the header chunk of a PNG file.</summary>
    private const int HeaderBytes = 33;

    /// <summary>Keyword and text that name the program; the keyword is one of those that the PNG specification lists.</summary>
    public static (string Keyword, string Text) Maker => ("Software", "CardScan");

    /// <summary>Keyword and text that name the card.</summary>
    /// <param name="plan">Its plan.</param>
    public static (string Keyword, string Text) Card(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return ("CardScan card", $"{plan.Number}");
    }

    /// <summary>True for a chunk of a PNG file that names CardScan as the picture's maker.</summary>
    /// <param name="name">The chunk's name.</param>
    /// <param name="body">What it holds.</param>
    public static bool IsMaker(ReadOnlySpan<byte> name, ReadOnlySpan<byte> body) =>
        name.SequenceEqual("iTXt"u8) && body.StartsWith("Software\0"u8) && body.EndsWith("\0CardScan"u8);

    /// <summary>True for a PNG file that names CardScan as its maker; the texts stand behind its header.</summary>
    /// <param name="file">The file, or its first few thousand bytes.</param>
    public static bool IsMarked(ReadOnlySpan<byte> file)
    {
        if (file.Length < HeaderBytes || file[0] != 0x89 || !file[1..].StartsWith("PNG\r\n\x1A\n"u8)) return false;
        for (int at = HeaderBytes; at + 12 <= file.Length;)
        {
            long length = BinaryPrimitives.ReadUInt32BigEndian(file[at..]);
            if (at + 12 + length > file.Length) return false;
            if (IsMaker(file.Slice(at + 4, 4), file.Slice(at + 8, (int)length))) return true;
            at += (int)(12 + length);
        }

        return false;
    }
}
