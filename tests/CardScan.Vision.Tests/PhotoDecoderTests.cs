using SixLabors.ImageSharp.PixelFormats;

namespace CardScan.Vision.Tests;

public sealed class PhotoDecoderTests
{
    // Exif 2.3, CIPA DC-008, tag 0x0112: stored rows [1 2 3], [4 5 6] and how they stand upright.
    private static readonly Dictionary<int, string> Upright = new()
    {
        [1] = "123/456", [2] = "321/654", [3] = "654/321", [4] = "456/123",
        [5] = "14/25/36", [6] = "41/52/63", [7] = "63/52/41", [8] = "36/25/14",
    };

    public static TheoryData<int, bool> Orientations()
    {
        TheoryData<int, bool> all = [];
        for (int orientation = 0; orientation <= 9; orientation++)
        {
            all.Add(orientation, false);
            all.Add(orientation, true);
        }

        return all;
    }

    [Theory]
    [MemberData(nameof(Orientations))]
    public void A_photo_stands_upright_whatever_its_EXIF_orientation(int orientation, bool isDisplayP3)
    {
        byte[] file = PhotoFiles.Squares([[Grey(1), Grey(2), Grey(3)], [Grey(4), Grey(5), Grey(6)]], (ushort)orientation,
            isDisplayP3 ? PhotoFiles.DisplayP3 : null);

        using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;

        // 0 and 9 are no orientations: the picture stays as it is stored.
        Assert.Equal(Upright[orientation is >= 1 and <= 8 ? orientation : 1], Figures(photo.Picture));
        Assert.Empty(photo.Warnings);

        static Rgb24 Grey(int figure) => new((byte)(40 * figure), (byte)(40 * figure), (byte)(40 * figure));
    }

    [Fact]
    public void A_Display_P3_photo_is_converted_to_sRGB()
    {
        Rgb24[][] colours =
        [
            [new(128, 128, 128), new(200, 160, 110), new(96, 64, 40), new(30, 24, 20)],
            [new(180, 120, 100), new(90, 120, 150), new(110, 140, 80), new(235, 225, 205)],
        ];
        byte[] plain = PhotoFiles.Squares(colours), wide = PhotoFiles.Squares(colours, profile: PhotoFiles.DisplayP3);

        using DecodedPhoto asStored = PhotoDecoder.Decode(plain).Value, converted = PhotoDecoder.Decode(wide).Value;

        double farthest = 0;
        for (int row = 0; row < 2; row++)
        {
            for (int column = 0; column < 4; column++)
            {
                (byte R, byte G, byte B) stored = CodesAt(asStored.Picture, column, row), found = CodesAt(converted.Picture, column, row);
                double[] expected = DisplayP3ToSrgb(stored.R, stored.G, stored.B);
                Assert.Equal(expected[0], found.R, 1.01);
                Assert.Equal(expected[1], found.G, 1.01);
                Assert.Equal(expected[2], found.B, 1.01);
                farthest = Math.Max(farthest, Math.Abs(expected[0] - stored.R));
            }
        }

        Assert.True(farthest > 5, "the colours do not tell converted from unconverted");
    }

    [Theory]
    [InlineData(36)] // the signature 'acsp' and everything behind it (ICC.1, clause 7.2)
    [InlineData(128)] // the table of tags and everything behind it
    public void A_broken_colour_profile_is_a_warning_and_the_picture_is_read_as_sRGB(int from)
    {
        byte[] broken = [.. PhotoFiles.DisplayP3];
        broken.AsSpan(from).Fill(0x55);
        Rgb24[][] colours = [[new(200, 160, 110)]];

        using DecodedPhoto photo = PhotoDecoder.Decode(PhotoFiles.WithProfile(PhotoFiles.Squares(colours), broken)).Value;
        using DecodedPhoto plain = PhotoDecoder.Decode(PhotoFiles.Squares(colours)).Value;

        Assert.Equal("colour-profile-ignored", Assert.Single(photo.Warnings).Code);
        Assert.Equal(CodesAt(plain.Picture, 0, 0), CodesAt(photo.Picture, 0, 0));
    }

    [Fact]
    public void An_ordinary_photo_gives_its_focal_length_and_date_and_no_warning()
    {
        using DecodedPhoto photo = PhotoDecoder.Decode(PhotoFiles.Birch).Value;

        Assert.Equal(26, photo.Shot.FocalLength35Mm);
        Assert.Equal(new DateTime(2026, 3, 14, 10, 20, 30), photo.Shot.Taken);
        Assert.Equal((1600, 1200), (photo.Picture.Width, photo.Picture.Height));
        Assert.Empty(photo.Warnings);
    }

    private static string Figures(Picture picture) =>
        string.Join('/', Enumerable.Range(0, picture.Height / 16).Select(row =>
            string.Concat(
                Enumerable.Range(0, picture.Width / 16).Select(column => (int)Math.Round(CodesAt(picture, column, row).G / 40.0)))));

    private static (byte R, byte G, byte B) CodesAt(Picture picture, int column, int row) => picture.CodesAt(16 * column + 8, 16 * row + 8);

    /// <summary>
    /// Display P3 (primaries 0.680 0.320, 0.265 0.690, 0.150 0.060; white D65 0.3127 0.3290; curve of sRGB) to sRGB codes.
    /// </summary>
    /// <remarks>Primaries: SMPTE EG 432-1; matrices from primaries and white as in SMPTE RP 177.</remarks>
    private static double[] DisplayP3ToSrgb(double r, double g, double b)
    {
        double[,] wide = FromPrimaries((0.680, 0.320), (0.265, 0.690), (0.150, 0.060));
        double[,] narrow = FromPrimaries((0.64, 0.33), (0.30, 0.60), (0.15, 0.06));
        double[] linear =
            [.. new[] { r, g, b }.Select(code => code / 255 <= 0.04045 ? code / 255 / 12.92 : Math.Pow((code / 255 + 0.055) / 1.055, 2.4))];
        double[] srgb = Solve(narrow, Times(wide, linear));
        return [.. srgb.Select(value => 255 * (value <= 0.0031308 ? 12.92 * value : 1.055 * Math.Pow(value, 1 / 2.4) - 0.055))];
    }

    private static double[,] FromPrimaries(params (double X, double Y)[] primaries)
    {
        double[,] columns = new double[3, 3];
        for (int i = 0; i < 3; i++)
            (columns[0, i], columns[1, i], columns[2, i]) =
                (primaries[i].X / primaries[i].Y, 1, (1 - primaries[i].X - primaries[i].Y) / primaries[i].Y);
        double[] scale = Solve(columns, [0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290]);
        for (int row = 0; row < 3; row++)
            for (int i = 0; i < 3; i++) columns[row, i] *= scale[i];
        return columns;
    }

    private static double[] Times(double[,] m, double[] v) =>
        [.. Enumerable.Range(0, 3).Select(row => m[row, 0] * v[0] + m[row, 1] * v[1] + m[row, 2] * v[2])];

    /// <summary>Cramer's rule.</summary>
    private static double[] Solve(double[,] m, double[] right)
    {
        double all = Determinant(m);
        return [.. Enumerable.Range(0, 3).Select(column =>
        {
            double[,] replaced = (double[,])m.Clone();
            for (int row = 0; row < 3; row++) replaced[row, column] = right[row];
            return Determinant(replaced) / all;
        })];
    }

    private static double Determinant(double[,] m) =>
        m[0, 0] * (m[1, 1] * m[2, 2] - m[1, 2] * m[2, 1]) - m[0, 1] * (m[1, 0] * m[2, 2] - m[1, 2] * m[2, 0])
        + m[0, 2] * (m[1, 0] * m[2, 1] - m[1, 1] * m[2, 0]);
}
