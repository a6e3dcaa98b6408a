using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Header of a HEIF file (ISO/IEC 23008-12): the boxes that tell of size and colour.</summary>
/// <remarks>
/// Rotation and mirroring are boxes too (irot, imir), and the decoder applies them; an Exif orientation beside them says
/// the same once more and must not be applied again.
/// </remarks>
internal static class HeifHeader
{
    public static Outcome<PhotoHeader> Read(ReadOnlySpan<byte> file)
    {
        ReadOnlySpan<byte> meta = Child(file, "meta"u8, 0);
        ReadOnlySpan<byte> properties = Child(meta, "iprp"u8, 4), values = Child(properties, "ipco"u8, 0);
        ReadOnlySpan<byte> primary = Child(meta, "pitm"u8, 4);
        if (values.IsEmpty || primary.IsEmpty) return FormatSniffer.Nonsense("HEIF");
        long id = primary[0] == 0 ? primary.U16(4) : primary.U32(4);
        HashSet<int> ofPrimary = Associated(Child(properties, "ipma"u8, 0), id);

        (long Width, long Height) largest = default;
        PhotoHeader header = new() { Width = 0, Height = 0 };
        int index = 0;
        for (long at = 0; at + 8 <= values.Length;)
        {
            ReadOnlySpan<byte> body = Box(values, at, out ReadOnlySpan<byte> name, out long length);
            index++;
            // The largest of all, thumbnails and tiles included: nothing larger is decoded.
            if (name.SequenceEqual("ispe"u8) && (long)body.U32(4) * body.U32(8) > largest.Width * largest.Height)
                largest = (body.U32(4), body.U32(8));
            if (name.SequenceEqual("colr"u8) && ofPrimary.Contains(index)) header = WithColour(header, body);
            if (length < 8) break;
            at += length;
        }

        return largest == default ? FormatSniffer.Nonsense("HEIF") : header with { Width = largest.Width, Height = largest.Height };
    }

    /// <summary>A colour box carries a profile, or code points (ITU-T H.273).</summary>
    private static PhotoHeader WithColour(PhotoHeader header, ReadOnlySpan<byte> body)
    {
        if (body.StartsWith("prof"u8) || body.StartsWith("rICC"u8))
            return header with { Profile = body[4..].ToArray(), IsDisplayP3 = false, HasForeignCodes = false };
        if (!body.StartsWith("nclx"u8) || header.Profile is not null) return header;
        int primaries = body.U16(4), transfer = body.U16(6);
        bool isNear = transfer is 1 or 2 or 6 or 13;
        return header with { IsDisplayP3 = primaries == 12 && isNear, HasForeignCodes = primaries is not (1 or 2 or 12) || !isNear };
    }

    /// <summary>Numbers, from 1, of the properties that an item has (ISO/IEC 23008-12, 9.3).</summary>
    private static HashSet<int> Associated(ReadOnlySpan<byte> box, long item)
    {
        HashSet<int> found = [];
        if (box.Length < 8) return found;
        bool hasLongIds = box[0] >= 1, hasLongNumbers = (box[3] & 1) == 1;
        long at = 8;
        for (uint entry = 0; entry < box.U32(4) && at < box.Length; entry++)
        {
            long id = hasLongIds ? box.U32(at) : box.U16(at);
            at += hasLongIds ? 4 : 2;
            int count = at < box.Length ? box[(int)at] : 0;
            at++;
            for (int i = 0; i < count && at < box.Length; i++, at += hasLongNumbers ? 2 : 1)
            {
                // The top bit says "essential".
                if (id == item) found.Add(hasLongNumbers ? box.U16(at) & 0x7FFF : box[(int)at] & 0x7F);
            }
        }

        return found;
    }

    /// <summary>Body of the first box of a name; empty where there is none.</summary>
    private static ReadOnlySpan<byte> Child(ReadOnlySpan<byte> boxes, ReadOnlySpan<byte> wanted, long from)
    {
        for (long at = from; at + 8 <= boxes.Length;)
        {
            ReadOnlySpan<byte> body = Box(boxes, at, out ReadOnlySpan<byte> name, out long length);
            if (name.SequenceEqual(wanted)) return body;
            if (length < 8) break;
            at += length;
        }

        return default;
    }

    /// <summary>One box: length, name, body; a length of 1 stands for a longer one behind the name, 0 for the rest of the file.</summary>
    private static ReadOnlySpan<byte> Box(ReadOnlySpan<byte> boxes, long at, out ReadOnlySpan<byte> name, out long length)
    {
        name = boxes.Part(at + 4, 4);
        length = boxes.U32(at);
        long head = 8;
        if (length == 1)
        {
            head = 16;
            // More than 4 GB is beyond the largest file that is read at all.
            length = boxes.U32(at + 8) != 0 ? boxes.Length : boxes.U32(at + 12);
        }
        else if (length == 0)
        {
            length = boxes.Length - at;
        }

        return boxes.Part(at + head, length - head);
    }
}
