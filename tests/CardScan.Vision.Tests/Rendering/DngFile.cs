using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>How the numbers of a raw picture lie in its file.</summary>
internal enum DngPacking
{
    /// <summary>16 bits each, in strips.</summary>
    Strips,

    /// <summary>Lossless JPEG (ITU-T T.81, process 14), in tiles.</summary>
    JpegTiles,
}

/// <summary>
/// Raw photos as phones save them (Adobe, "Digital Negative (DNG) Specification", version 1.4.0.0), of a scene in linear light.
/// </summary>
internal sealed record DngFile
{
    private const int Byte = 1, Ascii = 2, Short = 3, Long = 4, Rational = 5, Undefined = 7, SignedRational = 10;

    private const int TileSide = 256, RowsInStrip = 64;

    /// <summary>From XYZ to linear sRGB, both under D65 (IEC 61966-2-1).</summary>
    private static readonly double[,] SrgbOfXyz =
        { { 3.2406, -1.5372, -0.4986 }, { -0.9689, 1.8758, 0.0415 }, { 0.0557, -0.2040, 1.0570 } };

    /// <summary>What each of the sensor's colours sees of red, green and blue, each row 1 in sum.</summary>
    private static readonly double[,] Sensor = { { 0.72, 0.24, 0.04 }, { 0.16, 0.72, 0.12 }, { 0.03, 0.22, 0.75 } };

    public int Black { get; init; } = 64;

    public int White { get; init; } = 4095;

    /// <summary>What the sensor sees of white: blue and red less than green.</summary>
    public (double R, double G, double B) Neutral { get; init; } = (0.55, 1, 0.65);

    /// <summary>Standard deviation of the noise, numbers of the file; what is rounded needs some to be right in the mean.</summary>
    public double Noise { get; init; } = 1;

    /// <summary>How much higher the sensor's black lies than the file says, numbers of the file.</summary>
    public double Offset { get; init; }

    public DngPacking Packing { get; init; } = DngPacking.Strips;

    /// <summary>True for three colours at each pixel, no mosaic.</summary>
    public bool IsLinear { get; init; }

    /// <summary>A JPEG to stand first in the file, the raw picture in a directory below it; null for the raw picture alone.</summary>
    public byte[]? Preview { get; init; }

    public int Orientation { get; init; } = 1;

    /// <summary>What the lens leaves of the light, of the distance from the middle (1 at the corners).</summary>
    public Func<double, double> Shade { get; init; } = _ => 1;

    /// <summary>True to give what undoes <see cref="Shade"/>, as a gain map of 17 × 13 places (opcode 9).</summary>
    public bool HasGainMap { get; init; }

    public string Model { get; init; } = "Raw Phone";

    public double ExposureTimeS { get; init; } = 0.01;

    /// <summary>Compression that the file claims; null for that of <see cref="Packing"/>.</summary>
    public int? ClaimedCompression { get; init; }

    /// <summary>Size that the file claims, px; null for the true one.</summary>
    public int? ClaimedSide { get; init; }

    /// <summary>Writes the file.</summary>
    /// <param name="light">Red, green and blue of linear sRGB; 1 is the top of the sensor's scale in green.</param>
    public byte[] Write(LinearPicture light)
    {
        int samples = IsLinear ? 3 : 1;
        ushort[] numbers = Numbers(light);
        byte[][] pieces = Packing == DngPacking.Strips ? Strips(numbers, light.Width * samples) : Tiles(numbers, light.Width, light.Height);

        Layout file = new();
        Directory raw = [];
        raw.Add(254, Long, 0);
        raw.Add(256, Long, ClaimedSide ?? light.Width);
        raw.Add(257, Long, ClaimedSide ?? light.Height);
        raw.Add(258, Short, [.. Enumerable.Repeat(16, samples)]);
        raw.Add(259, Short, ClaimedCompression ?? (Packing == DngPacking.Strips ? 1 : 7));
        raw.Add(262, Short, IsLinear ? 34892 : 32803);
        raw.Add(277, Short, samples);
        raw.Add(284, Short, 1);
        int[] places = [.. pieces.Select(file.PutPicture)], lengths = [.. pieces.Select(piece => piece.Length)];
        if (Packing == DngPacking.Strips)
        {
            raw.Add(273, Long, places);
            raw.Add(278, Long, RowsInStrip);
            raw.Add(279, Long, lengths);
        }
        else
        {
            raw.Add(322, Long, TileSide);
            raw.Add(323, Long, TileSide);
            raw.Add(324, Long, places);
            raw.Add(325, Long, lengths);
        }

        if (!IsLinear)
        {
            raw.Add(33421, Short, 2, 2);
            raw.Add(33422, Byte, 0, 1, 1, 2);
        }

        raw.Add(50714, Short, [.. Enumerable.Repeat(Black, samples)]);
        raw.Add(50717, Long, [.. Enumerable.Repeat(White, samples)]);
        if (HasGainMap) raw.Add(51009, Undefined, GainMap(light.Width, light.Height));

        Directory first = Preview is null ? raw : [];
        if (Preview is not null)
        {
            first.Add(254, Long, 1);
            first.Add(256, Long, light.Width);
            first.Add(257, Long, light.Height);
            first.Add(258, Short, 8, 8, 8);
            first.Add(259, Short, 7);
            first.Add(262, Short, 6);
            first.Add(273, Long, file.PutPicture(Preview));
            first.Add(277, Short, 3);
            first.Add(278, Long, light.Height);
            first.Add(279, Long, Preview.Length);
            first.Add(330, Long, file.Put(raw.Sorted(file)));
        }

        Describe(first, file);
        return file.Finish(first);
    }

    private void Describe(Directory first, Layout file)
    {
        first.Add(271, Ascii, "Invented\0"u8.ToArray());
        first.Add(272, Ascii, Encoding.ASCII.GetBytes($"{Model}\0"));
        first.Add(274, Short, Orientation);
        first.Add(50706, Byte, 1, 4, 0, 0);
        first.Add(50707, Byte, 1, 1, 0, 0);
        first.Add(50708, Ascii, Encoding.ASCII.GetBytes($"Invented {Model}\0"));
        first.Add(50721, SignedRational, Fractions([.. ColourMatrix()]));
        first.Add(50728, Rational, Fractions(Neutral.R, Neutral.G, Neutral.B));
        first.Add(50778, Short, 21); // D65
        Directory exif = [];
        exif.Add(33434, Rational, Fractions(ExposureTimeS));
        exif.Add(33437, Rational, Fractions(1.8));
        exif.Add(34855, Short, 100);
        exif.Add(36867, Ascii, "2026:03:14 10:20:30\0"u8.ToArray());
        exif.Add(41989, Short, 26);
        first.Add(34665, Long, file.Put(exif.Sorted(file)));
    }

    /// <summary>From XYZ to the sensor's colours.</summary>
    private IEnumerable<double> ColourMatrix()
    {
        double[] neutral = [Neutral.R, Neutral.G, Neutral.B];
        for (int row = 0; row < 3; row++)
            for (int column = 0; column < 3; column++)
                yield return neutral[row] * Enumerable.Range(0, 3).Sum(i => Sensor[row, i] * SrgbOfXyz[i, column]);
    }

    private ushort[] Numbers(LinearPicture light)
    {
        int samples = IsLinear ? 3 : 1;
        double[] neutral = [Neutral.R, Neutral.G, Neutral.B];
        ushort[] numbers = new ushort[light.Width * light.Height * samples];
        Random chance = new(20260315);
        for (int y = 0; y < light.Height; y++)
        {
            for (int x = 0; x < light.Width; x++)
            {
                (double r, double g, double b) = light.At(x, y);
                double shade = ShadeAt((x + 0.5) / light.Width, (y + 0.5) / light.Height);
                for (int i = 0; i < samples; i++)
                {
                    int colour = IsLinear ? i : (x & 1) + (y & 1);
                    double seen = shade * neutral[colour] * (Sensor[colour, 0] * r + Sensor[colour, 1] * g + Sensor[colour, 2] * b);
                    double normal = Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
                    numbers[(y * light.Width + x) * samples + i] =
                        (ushort)Math.Clamp(Math.Round(Black + Offset + (White - Black) * seen + Noise * normal), 0, White);
                }
            }
        }

        return numbers;
    }

    /// <param name="x">Right, 0 to 1.</param>
    /// <param name="y">Down, 0 to 1.</param>
    private double ShadeAt(double x, double y) => Shade(Math.Sqrt((Math.Pow(2 * x - 1, 2) + Math.Pow(2 * y - 1, 2)) / 2));

    /// <summary>A list of one opcode, "GainMap"; big-endian whatever the file is (chapter 6 and 7 of the specification).</summary>
    private byte[] GainMap(int width, int height)
    {
        const int across = 17, down = 13;
        List<byte> map = [];
        foreach (int number in (int[])[0, 0, height, width, 0, 1, 1, 1, down, across]) U32((uint)number);
        foreach (double number in (double[])[1.0 / (down - 1), 1.0 / (across - 1), 0, 0]) F64(number);
        U32(1);
        for (int y = 0; y < down; y++)
            for (int x = 0; x < across; x++)
                U32(BitConverter.SingleToUInt32Bits((float)(1 / ShadeAt((double)x / (across - 1), (double)y / (down - 1)))));
        byte[] parameters = [.. map];
        map.Clear();
        U32(1);
        U32(9);
        map.AddRange([1, 3, 0, 0]);
        U32(1);
        U32((uint)parameters.Length);
        return [.. map, .. parameters];

        void U32(uint number)
        {
            byte[] bytes = new byte[4];
            BinaryPrimitives.WriteUInt32BigEndian(bytes, number);
            map.AddRange(bytes);
        }

        void F64(double number)
        {
            byte[] bytes = new byte[8];
            BinaryPrimitives.WriteDoubleBigEndian(bytes, number);
            map.AddRange(bytes);
        }
    }

    private static byte[][] Strips(ushort[] numbers, int rowLength) =>
        [.. numbers.Chunk(rowLength * RowsInStrip).Select(strip => MemoryMarshal.AsBytes<ushort>(strip).ToArray())];

    /// <summary>Tiles; those of a mosaic say that they are half as wide and of two colours, as cameras write them.</summary>
    private byte[][] Tiles(ushort[] numbers, int width, int height)
    {
        int samples = IsLinear ? 3 : 1;
        List<byte[]> tiles = [];
        for (int top = 0; top < height; top += TileSide)
        {
            for (int left = 0; left < width; left += TileSide)
            {
                ushort[] tile = new ushort[TileSide * TileSide * samples];
                for (int y = 0; y < TileSide; y++)
                    for (int x = 0; x < TileSide * samples; x++)
                        tile[y * TileSide * samples + x] = numbers[Math.Min(top + y, height - 1) * width * samples
                            + Math.Min(left * samples + x, width * samples - samples + x % samples)];
                tiles.Add(IsLinear ? LosslessJpeg.Write(tile, TileSide, TileSide, 3) : LosslessJpeg.Write(tile, TileSide / 2, TileSide, 2));
            }
        }

        return [.. tiles];
    }

    private static byte[] Fractions(params double[] values)
    {
        byte[] bytes = new byte[8 * values.Length];
        for (int i = 0; i < values.Length; i++)
        {
            BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(8 * i), (int)Math.Round(10_000 * values[i]));
            BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(8 * i + 4), 10_000);
        }

        return bytes;
    }

    /// <summary>A directory of tags (TIFF 6.0, section 2), little-endian.</summary>
    private sealed class Directory : SortedDictionary<int, (int Type, int Count, byte[] Bytes)>
    {
        public void Add(int tag, int type, params int[] numbers)
        {
            int size = type switch { Byte => 1, Short => 2, _ => 4 };
            byte[] bytes = new byte[size * numbers.Length];
            for (int i = 0; i < bytes.Length; i++) bytes[i] = (byte)(numbers[i / size] >> (8 * (i % size)));
            Add(tag, (type, numbers.Length, bytes));
        }

        public void Add(int tag, int type, byte[] bytes) =>
            Add(tag, (type, type is Rational or SignedRational ? bytes.Length / 8 : bytes.Length, bytes));

        /// <summary>Its bytes; what is longer than four bytes is put into the file.</summary>
        public byte[] Sorted(Layout file)
        {
            byte[] all = new byte[2 + 12 * Count + 4];
            BinaryPrimitives.WriteUInt16LittleEndian(all, (ushort)Count);
            int at = 2;
            foreach ((int tag, (int type, int count, byte[] bytes)) in this)
            {
                BinaryPrimitives.WriteUInt16LittleEndian(all.AsSpan(at), (ushort)tag);
                BinaryPrimitives.WriteUInt16LittleEndian(all.AsSpan(at + 2), (ushort)type);
                BinaryPrimitives.WriteInt32LittleEndian(all.AsSpan(at + 4), count);
                if (bytes.Length <= 4) bytes.CopyTo(all.AsSpan(at + 8));
                else BinaryPrimitives.WriteInt32LittleEndian(all.AsSpan(at + 8), file.Put(bytes));
                at += 12;
            }

            return all;
        }
    }

    /// <summary>Directories in front and pictures behind, as cameras write them.</summary>
    private sealed class Layout
    {
        private readonly byte[] _front = new byte[1 << 16];
        private readonly List<byte> _pictures = [];
        private int _used = 8;

        /// <summary>Puts bytes in front and tells where.</summary>
        public int Put(byte[] bytes)
        {
            int at = _used;
            bytes.CopyTo(_front.AsSpan(at));
            _used += (bytes.Length + 1) / 2 * 2;
            return at;
        }

        /// <summary>Puts a picture, or a piece of one, behind all that.</summary>
        public int PutPicture(byte[] bytes)
        {
            int at = _front.Length + _pictures.Count;
            _pictures.AddRange(bytes);
            return at;
        }

        public byte[] Finish(Directory first)
        {
            int at = Put(first.Sorted(this));
            "II*\0"u8.CopyTo(_front);
            BinaryPrimitives.WriteInt32LittleEndian(_front.AsSpan(4), at);
            return [.. _front, .. _pictures];
        }
    }
}
