namespace CardScan.Vision;

/// <summary>What a walk through a JPEG file's data tells.</summary>
/// <param name="IsSound">False where the data are damaged.</param>
/// <param name="Frame">The picture's frame; null where there is none, or none that is looked at (arithmetic coding).</param>
internal sealed record JpegVerdict(bool IsSound, JpegFrame? Frame);

/// <summary>
/// Whether a JPEG file's compressed data are those that an encoder wrote (ITU-T T.81): decoders make a picture of anything.
/// </summary>
internal sealed class JpegData
{
    private const int MostScans = 1000;

    private readonly HuffmanCode?[] _means = new HuffmanCode?[4], _rests = new HuffmanCode?[4];
    private readonly JpegSteps?[] _steps = new JpegSteps?[4];
    private JpegFrame? _frame;
    private int _restartInterval;

    private JpegData()
    {
    }

    /// <summary>Walks all data of a file.</summary>
    /// <param name="file">The file.</param>
    public static JpegVerdict Judge(ReadOnlySpan<byte> file)
    {
        JpegData data = new();
        return new(data.Walk(file), data._frame);
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
                    if (++scans > MostScans || ScanOf(body) is not { } scan || scan.Walk(file, at) is not { } behind) return false;
                    at = behind;
                    break;
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
        var parts = new (JpegComponent, HuffmanCode?, HuffmanCode?)[count];
        for (int i = 0; i < count; i++)
        {
            int id = body[1 + 2 * i], codes = body[2 + 2 * i];
            if (Array.Find(_frame.Components, component => component.Id == id) is not { } found || _steps[found.Steps] is null) return null;
            parts[i] = (found, _means[codes >> 4 & 3], _rests[codes & 3]);
        }

        ReadOnlySpan<byte> range = body[(1 + 2 * count)..];
        JpegScan scan = new()
        {
            Frame = _frame,
            Parts = parts,
            Steps = _steps,
            First = _frame.IsProgressive ? range[0] : 0,
            Last = _frame.IsProgressive ? range[1] : 63,
            High = _frame.IsProgressive ? range[2] >> 4 : 0,
            Low = _frame.IsProgressive ? range[2] & 15 : 0,
            RestartInterval = _restartInterval,
        };
        return IsInOrder(scan) ? scan : null;
    }

    /// <summary>Codes are there, means come before everything else and bit by bit.</summary>
    private static bool IsInOrder(JpegScan scan)
    {
        bool hasMeans = scan.First == 0, hasRest = scan.Last > 0;
        if (scan.First > scan.Last || scan.Last > 63 || scan.Low > 13) return false;
        if (scan.Frame.IsProgressive && hasRest && (hasMeans || scan.Parts.Length > 1)) return false;
        foreach ((JpegComponent component, HuffmanCode? means, HuffmanCode? rest) in scan.Parts)
        {
            if (hasRest && rest is null) return false;
            if (!hasMeans) continue;
            if ((scan.High == 0 && means is null) || component.MeanBitsToCome != (scan.High == 0 ? 16 : scan.High)) return false;
            component.MeanBitsToCome = scan.Low;
        }

        return true;
    }
}
