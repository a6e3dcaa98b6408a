using CardScan.Model;
using SkiaSharp;

namespace CardScan.Reporting.Tests;

public sealed class AnnotatedSheetTests
{
    /// <summary>A decoded sheet, addressed in mm of the card.</summary>
    private sealed class Sheet : IDisposable
    {
        private readonly double _pxPerMm;
        private readonly double _marginMm;
        private readonly int _topPx;

        public Sheet(Reading reading, double pxPerMm = 10)
        {
            CardPicture picture = Samples.Picture(reading.Plan, pxPerMm);
            CellLabels labels = CardMarks.Of(reading).Labels;
            Enlargement = AnnotatedSheet.Enlargement(picture, labels.SizeMm);
            Bitmap = SKBitmap.Decode(CardReport.AnnotatedPng(reading, picture));
            (_pxPerMm, _marginMm) = (pxPerMm * Enlargement, picture.MarginMm);
            SheetType type = new(picture.WidthPx * Enlargement, reading.Plan, Judgement.Of(reading), KeyEntry.Of(reading, labels));
            _topPx = type.HeadingPx;
            Assert.Equal(picture.WidthPx * Enlargement, Bitmap.Width);
            Assert.Equal(picture.HeightPx * Enlargement + type.HeadingPx + type.KeyPx, Bitmap.Height);
        }

        public int Enlargement { get; }

        public SKBitmap Bitmap { get; }

        public (byte R, byte G, byte B) At(double xMm, double yMm)
        {
            SKColor colour = Bitmap.GetPixel((int)((xMm + _marginMm) * _pxPerMm), (int)((yMm + _marginMm) * _pxPerMm) + _topPx);
            return (colour.Red, colour.Green, colour.Blue);
        }

        public void Dispose() => Bitmap.Dispose();
    }

    [Theory]
    [InlineData(5, 6, 8, 6)]
    [InlineData(3, 3, 8, 6)]
    [InlineData(12, 12, 4, 2)]
    public void Cells_stay_untouched_inside_and_are_outlined_where_the_plan_says(int rows, int columns, double cellMm, double gapMm)
    {
        Reading reading = Samples.Engraved(Samples.Plan(rows, columns, cellMm: cellMm, gapMm: gapMm));
        CardSpacing spacing = CardSpacing.Of(reading);
        using Sheet sheet = new(reading);

        foreach (Cell cell in reading.Plan.Cells)
        {
            for (double share = 0.06; share < 1; share += 0.08)
            {
                Assert.Equal(Samples.Burned, sheet.At(cell.XMm + share * cell.WidthMm, cell.YMm + 0.06 * cell.HeightMm));
                Assert.Equal(Samples.Burned, sheet.At(cell.XMm + share * cell.WidthMm, cell.YMm + share * cell.HeightMm));
                Assert.Equal(Samples.Burned, sheet.At(cell.XMm + share * cell.WidthMm, cell.YMm + 0.94 * cell.HeightMm));
            }

            CellReading found = reading.Cells.Single(each => each.Row == cell.Row && each.Column == cell.Column);
            if (ShownCell.IsLeftOut(found)) continue; // dashed
            double middle = cell.YMm + cell.HeightMm / 2;
            Assert.True(IsDark(sheet.At(cell.XMm + cell.WidthMm + spacing.OutlineMm, middle)), "right edge");
            Assert.True(IsDark(sheet.At(cell.XMm + cell.WidthMm / 2, cell.YMm - spacing.OutlineMm)), "top edge");
        }
    }

    [Fact]
    public void Only_the_recommended_cell_has_a_bracket_and_a_number()
    {
        Reading reading = Samples.Engraved();
        CardSpacing spacing = CardSpacing.Of(reading);
        using Sheet sheet = new(reading);

        foreach (Cell cell in reading.Plan.Cells)
        {
            bool isRecommended = (cell.Row, cell.Column) == (0, 5);
            (byte R, byte G, byte B) corner = sheet.At(cell.XMm + cell.WidthMm + spacing.BracketMm, cell.YMm - spacing.BracketMm);
            Assert.Equal(isRecommended, IsYellow(corner));
        }
    }

    [Fact]
    public void Labels_are_really_drawn_in_the_strip_below_their_cell()
    {
        Reading reading = Samples.Engraved();
        using Sheet sheet = new(reading);

        foreach (Cell cell in reading.Plan.Cells)
        {
            int dark = 0, light = 0;
            for (double x = cell.XMm; x < cell.XMm + cell.WidthMm; x += 0.05)
            {
                for (double y = cell.YMm + cell.HeightMm + 1; y < cell.YMm + cell.HeightMm + 5; y += 0.05)
                {
                    (byte r, byte g, byte b) = sheet.At(x, y);
                    if (r + g + b < 150) dark++;
                    if (r + g + b > 690) light++;
                }
            }

            // A typeface without glyphs would leave an empty plate.
            Assert.InRange(dark, 100, 3000);
            Assert.True(light > 3 * dark, $"{light} light, {dark} dark");
        }
    }

    [Fact]
    public void Small_cells_enlarge_the_photo_by_a_whole_factor_until_the_type_is_sharp()
    {
        Reading small = Samples.Engraved(Samples.Plan(12, 12, cellMm: 4, gapMm: 2));
        CellLabels labels = CardMarks.Of(small).Labels;
        using Sheet sheet = new(small);

        Assert.True(sheet.Enlargement > 1);
        Assert.True(labels.SizeMm * 10 * sheet.Enlargement >= 14);
        Assert.False(labels.IsOverCell);
    }

    [Fact]
    public void Memory_bounds_the_enlargement()
    {
        CardPicture large = new(6000, 5000, 40, 2, ReadOnlyMemory<byte>.Empty);

        Assert.Equal(1, AnnotatedSheet.Enlargement(large, labelMm: 0.05));
    }

    [Fact] // 5.5.3 of the PNG specification: the eight bytes every PNG file begins with
    public void The_file_is_a_PNG()
    {
        byte[] file = CardReport.AnnotatedPng(Samples.Cut(), Samples.Picture(Samples.Cut().Plan, 5));

        Assert.Equal([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a], file[..8]);
    }

    private static bool IsDark((byte R, byte G, byte B) colour) => colour.R + colour.G + colour.B < 120;

    private static bool IsYellow((byte R, byte G, byte B) colour) => colour is { R: > 200, G: > 190, B: < 120 };
}
