namespace CardScan.Vision.Tests.Rendering;

/// <summary>Lossless JPEG (ITU-T T.81, annex H) with predictor 1 and codes of five bits for every length of a difference.</summary>
internal static class LosslessJpeg
{
    private const int Precision = 16, Lengths = 17, CodeBits = 5;

    /// <summary>Compresses numbers of 16 bits whose colours lie side by side.</summary>
    public static byte[] Write(ushort[] numbers, int width, int height, int colours)
    {
        List<byte> file = [0xFF, 0xD8, 0xFF, 0xC4, 0, 2 + 17 + Lengths, 0];
        for (int bits = 1; bits <= 16; bits++) file.Add(bits == CodeBits ? (byte)Lengths : (byte)0);
        for (byte length = 0; length < Lengths; length++) file.Add(length);
        file.AddRange([0xFF, 0xC3, 0, (byte)(8 + 3 * colours), Precision, (byte)(height >> 8), (byte)height, (byte)(width >> 8),
            (byte)width, (byte)colours]);
        for (byte i = 0; i < colours; i++) file.AddRange([i, 0x11, 0]);
        file.AddRange([0xFF, 0xDA, 0, (byte)(6 + 2 * colours), (byte)colours]);
        for (byte i = 0; i < colours; i++) file.AddRange([i, 0]);
        file.AddRange([1, 0, 0]);

        int rowLength = width * colours, held = 0;
        ulong bitsHeld = 0;
        for (int i = 0; i < numbers.Length; i++)
        {
            int expected = i % rowLength >= colours ? numbers[i - colours] : i >= rowLength ? numbers[i - rowLength] : 1 << (Precision - 1);
            int difference = (short)(numbers[i] - expected);
            int length = difference == 0 ? 0 : int.Log2(Math.Abs(difference)) + 1;
            Put((uint)length, CodeBits);
            // A length of 16 stands for −32768 alone and has no bits behind it.
            if (length is > 0 and < 16) Put((uint)(difference < 0 ? difference - 1 : difference) & ((1u << length) - 1), length);
        }

        if (held > 0) Put((1u << (8 - held)) - 1, 8 - held);
        file.AddRange([0xFF, 0xD9]);
        return [.. file];

        void Put(uint value, int count)
        {
            bitsHeld = (bitsHeld << count) | value;
            for (held += count; held >= 8; held -= 8)
            {
                byte next = (byte)(bitsHeld >> (held - 8));
                file.Add(next);
                if (next == 0xFF) file.Add(0);
            }
        }
    }
}
