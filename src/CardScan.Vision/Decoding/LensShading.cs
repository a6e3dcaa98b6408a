using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>What a lens takes of the light, as a raw photo's gain maps give it (DNG specification, chapter 7, opcode 9).</summary>
/// <remarks>
/// Phones write one map for each place of the mosaic. Their mean serves all colours: what they differ by is a tint that changes slowly
/// over the picture, and marks are held against the bare material beside them.
/// </remarks>
internal sealed class LensShading
{
    private const int GainMapOpcode = 9, OpcodeHead = 16, MapHead = 76, MostOpcodes = 64, MostPoints = 100_000;

    /// <summary>A gain outside this is no lens's.</summary>
    private const float LeastGain = 0.1f, MostGain = 20;

    /// <summary>Gains are worked out at every so many columns, and are straight between them.</summary>
    private const int Step = 16;

    private const int LightSteps = 1 << 14;

    private readonly List<Map> _maps = [];

    /// <summary>The shading; null where the photo gives none.</summary>
    /// <param name="lists">The lists of opcodes that apply to the picture.</param>
    public static LensShading? Of(params IEnumerable<byte[]?> lists)
    {
        LensShading shading = new();
        foreach (byte[] list in lists.OfType<byte[]>()) shading.Add(list);
        return shading._maps.Count == 0 ? null : shading;
    }

    /// <summary>Undoes it in place; what grows beyond the scale is clipped.</summary>
    /// <param name="bgr">Codes of <see cref="CodeScale.Raw"/>.</param>
    public void Undo(Mat bgr)
    {
        byte[] codes = [.. Enumerable.Range(0, LightSteps + 1).Select(i => CodeScale.RawCodeOf((double)i / LightSteps))];
        float[] lights = [.. CodeScale.Raw.LinearOfCode.Select(light => light * LightSteps)];
        int width = bgr.Width, height = bgr.Height;
        Parallel.For(0, height, y =>
        {
            float[] gains = [.. Enumerable.Range(0, width / Step + 2).Select(i => (float)At(i * Step / (width - 1.0), y / (height - 1.0)))];
            Span<byte> row = bgr.RowSpan<byte>(y);
            for (int x = 0; x < width; x++)
            {
                int at = x / Step;
                float gain = gains[at] + (gains[at + 1] - gains[at]) * (x - at * Step) / Step;
                for (int i = 3 * x; i < 3 * x + 3; i++) row[i] = codes[Math.Min(LightSteps, (int)(gain * lights[row[i]] + 0.5f))];
            }
        });
    }

    private double At(double x, double y) => _maps.Average(map => map.At(x, y));

    /// <summary>Opcodes are big-endian, whatever the file is: number, version, flags, length; what is damaged ends the list.</summary>
    private void Add(ReadOnlySpan<byte> list)
    {
        long at = 4;
        for (uint left = Math.Min(list.U32(0), MostOpcodes); left > 0 && at + OpcodeHead <= list.Length; left--)
        {
            long length = list.U32(at + 12);
            if (list.U32(at) == GainMapOpcode && Map.Read(list.Part(at + OpcodeHead, length)) is { } map) _maps.Add(map);
            at += OpcodeHead + length;
        }
    }

    /// <summary>Gains at places that lie evenly apart; of several planes, the first.</summary>
    /// <param name="Down">Places down.</param>
    /// <param name="Across">Places across.</param>
    /// <param name="From">The first, as a share of the picture's sides.</param>
    /// <param name="Apart">From one to the next.</param>
    /// <param name="Gains">Row by row.</param>
    private sealed record Map(int Down, int Across, (double X, double Y) From, (double X, double Y) Apart, float[] Gains)
    {
        public static Map? Read(ReadOnlySpan<byte> opcode)
        {
            long down = opcode.U32(32), across = opcode.U32(36), planes = opcode.U32(72);
            if (down < 1 || across < 1 || planes < 1 || down > MostPoints || across > MostPoints || planes > 4 || down * across > MostPoints
                || MapHead + 4 * down * across * planes > opcode.Length)
                return null;
            float[] gains = new float[down * across];
            for (int i = 0; i < gains.Length; i++)
            {
                gains[i] = BitConverter.UInt32BitsToSingle(opcode.U32(MapHead + 4 * i * planes));
                if (!(gains[i] is >= LeastGain and <= MostGain)) return null;
            }

            return new((int)down, (int)across, (Double(opcode, 64), Double(opcode, 56)), (Double(opcode, 48), Double(opcode, 40)), gains);
        }

        public double At(double x, double y)
        {
            (int left, double right) = Place(x, From.X, Apart.X, Across);
            (int top, double down) = Place(y, From.Y, Apart.Y, Down);
            int next = Math.Min(left + 1, Across - 1), below = Math.Min(top + 1, Down - 1);
            return (1 - down) * ((1 - right) * Gain(top, left) + right * Gain(top, next))
                + down * ((1 - right) * Gain(below, left) + right * Gain(below, next));

            double Gain(int row, int column) => Gains[row * Across + column];
        }

        /// <summary>The place before a point, and how far it is to the next; beyond the last ones gains stay as they are.</summary>
        private static (int Index, double Beyond) Place(double at, double from, double apart, int count)
        {
            double place = Math.Clamp((at - from) / apart, 0, count - 1);
            if (double.IsNaN(place)) return (0, 0);
            int index = (int)place;
            return (index, place - index);
        }

        private static double Double(ReadOnlySpan<byte> opcode, int at) =>
            BitConverter.UInt64BitsToDouble(((ulong)opcode.U32(at) << 32) | opcode.U32(at + 4));
    }
}
