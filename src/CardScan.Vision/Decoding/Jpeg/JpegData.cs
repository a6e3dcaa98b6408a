namespace CardScan.Vision;

/// <summary>What a walk through a JPEG file's data tells.</summary>
/// <param name="IsSound">False where the data are damaged.</param>
/// <param name="Frame">The picture's frame; null where there is none, or none that is looked at (arithmetic coding).</param>
/// <param name="Picture">
/// The picture, the caller's to dispose of; null where the data are damaged, or of a kind of which none is made.
/// </param>
internal sealed record JpegVerdict(bool IsSound, JpegFrame? Frame, Planes? Picture);

/// <summary>
/// Whether a JPEG file's compressed data are those that an encoder wrote (ITU-T T.81): decoders make a picture of anything.
/// </summary>
/// <remarks>
/// On the way, a picture is made of the usual kind of file: grey, or luma and chroma in one scan, the chroma as large as the
/// luma or half as large either way.
/// </remarks>
internal sealed class JpegData
{
    private const int MostScans = 1000;

    /// <summary>What an Adobe segment says of three components that are red, green and blue.</summary>
    private const byte NoTransform = 0;

    private readonly HuffmanCode?[] _means = new HuffmanCode?[4], _rests = new HuffmanCode?[4];
    private readonly JpegSteps?[] _steps = new JpegSteps?[4];
    private JpegFrame? _frame;
    private int _restartInterval;
    private bool _isJfif;
    private byte? _adobeTransform;
    private readonly bool _makesPicture;
    private Planes? _picture;

    private JpegData(bool makesPicture) => _makesPicture = makesPicture;

    /// <summary>Walks all data of a file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="makesPicture">False where nobody wants the picture.</param>
    public static JpegVerdict Judge(ReadOnlySpan<byte> file, bool makesPicture = true)
    {
        JpegData data = new(makesPicture);
        if (data.Walk(file)) return new(true, data._frame, data._picture);
        data._picture?.Dispose();
        return new(false, data._frame, null);
    }

    private bool Walk(ReadOnlySpan<byte> file)
    {
        int scans = 0;
        for (int at = 2; at + 4 <= file.Length || (at + 2 <= file.Length && file[at + 1] == 0xD9);)
        {
            if (file[at] != 0xFF) return false;
            byte marker = file[at + 1];
            if (marker == 0xFF)
            {
                at++;
                continue;
            }

            if (marker == 0xD9) return _frame is not null && _frame.Components.All(component => component.MeanBitsToCome == 0);
            int length = file.U16(at + 2);
            if (length < 2 || at + 2 + length > file.Length) return false;
            ReadOnlySpan<byte> body = file.Slice(at + 4, length - 2);
            at += 2 + length;
            switch (marker)
            {
                case 0xC9 or 0xCA: return true;
                case >= 0xC0 and <= 0xC2:
                    if (_frame is not null) return false;
                    _frame = JpegFrame.Of(marker == 0xC2, body);
                    if (_frame is null) return false;
                    break;
                case 0xC4:
                    if (!TakeCodes(body)) return false;
                    break;
                case 0xDB:
                    if (!TakeSteps(body)) return false;
                    break;
                case 0xDD:
                    _restartInterval = body.U16(0);
                    break;
                case 0xDA:
                    if (++scans > MostScans || ScanOf(body) is not { } scan) return false;
                    if (scans == 1 && _makesPicture && !IsRgb(_frame!)) _picture = BlockPainter.TryPrepare(scan);
                    if (scan.Walk(file, at) is not { } behind) return false;
                    at = behind;
                    break;
                case 0xE0 when body.StartsWith("JFIF\0"u8): _isJfif = true; break;
                case 0xEE when body.StartsWith("Adobe"u8) && body.Length > 11: _adobeTransform = body[11]; break;
                case >= 0xE0 and <= 0xEF or 0xFE: break;
                default: return false;
            }
        }

        return false;
    }

    private bool TakeCodes(ReadOnlySpan<byte> body)
    {
        while (!body.IsEmpty)
        {
            if (body.Length < 17 || (body[0] & 0xEF) > 3) return false;
            int symbols = 0;
            foreach (byte count in body.Slice(1, 16)) symbols += count;
            if (body.Length < 17 + symbols || HuffmanCode.Of(body.Slice(1, 16), body.Slice(17, symbols)) is not { } code) return false;
            (body[0] < 16 ? _means : _rests)[body[0] & 3] = code;
            body = body[(17 + symbols)..];
        }

        return true;
    }

    /// <summary>Steps stand in the order of the coefficients, of one byte each or of two.</summary>
    private bool TakeSteps(ReadOnlySpan<byte> body)
    {
        while (!body.IsEmpty)
        {
            int bytes = (body[0] >> 4) + 1;
            if (bytes > 2 || (body[0] & 15) > 3 || body.Length < 1 + JpegSteps.Count * bytes) return false;
            _steps[body[0] & 3] = JpegSteps.Of(body[1..], bytes);
            body = body[(1 + JpegSteps.Count * bytes)..];
        }

        return true;
    }

    private JpegScan? ScanOf(ReadOnlySpan<byte> body)
    {
        if (_frame is null || body.IsEmpty || body[0] is < 1 or > 4 || body.Length < 4 + 2 * body[0]) return null;
        int count = body[0];
        JpegScanPart[] parts = new JpegScanPart[count];
        for (int i = 0; i < count; i++)
        {
            int id = body[1 + 2 * i], codes = body[2 + 2 * i];
            if (Array.Find(_frame.Components, component => component.Id == id) is not { } found || _steps[found.Steps] is not { } steps)
                return null;
            parts[i] = new(found, _means[codes >> 4 & 3], _rests[codes & 3], steps);
        }

        ReadOnlySpan<byte> range = body[(1 + 2 * count)..];
        JpegScan scan = new()
        {
            Frame = _frame,
            Parts = parts,
            First = _frame.IsProgressive ? range[0] : 0,
            Last = _frame.IsProgressive ? range[1] : 63,
            High = _frame.IsProgressive ? range[2] >> 4 : 0,
            Low = _frame.IsProgressive ? range[2] & 15 : 0,
            RestartInterval = _restartInterval,
        };
        return IsInOrder(scan) ? scan : null;
    }

    /// <summary>True where three components are red, green and blue, by the rules that decoders go by.</summary>
    private bool IsRgb(JpegFrame frame) => frame.Components.Length == 3 && !_isJfif
        && (_adobeTransform is { } transform
            ? transform == NoTransform
            : frame.Components.Select(component => (char)component.Id).SequenceEqual("RGB"));

    /// <summary>Codes are there, means come before everything else and bit by bit.</summary>
    private static bool IsInOrder(JpegScan scan)
    {
        bool hasMeans = scan.First == 0, hasRest = scan.Last > 0;
        if (scan.First > scan.Last || scan.Last > 63 || scan.Low > 13) return false;
        if (scan.Frame.IsProgressive && hasRest && (hasMeans || scan.Parts.Length > 1)) return false;
        foreach (JpegScanPart part in scan.Parts)
        {
            JpegComponent component = part.Component;
            if (hasRest && part.Others is null) return false;
            if (!hasMeans) continue;
            if ((scan.High == 0 && part.Means is null) || component.MeanBitsToCome != (scan.High == 0 ? 16 : scan.High)) return false;
            component.MeanBitsToCome = scan.Low;
        }

        return true;
    }
}
