using CardScan.Model;

namespace CardScan.Vision.Tests;

public sealed class SrgbColourTests
{
    [Fact] // Sharma, Wu and Dalal, Color Res. Appl. 30(1), 21–30 (2005), Table 1: Data/ciede2000_sharma2005.csv
    public void Colour_differences_match_all_34_published_pairs_to_4_decimals()
    {
        IReadOnlyList<ReferenceRow> pairs = ReferenceTable.Read("ciede2000_sharma2005.csv");

        Assert.Equal(34, pairs.Count);
        Assert.All(pairs, pair =>
        {
            Lab first = new(pair.Number("L1"), pair.Number("a1"), pair.Number("b1"));
            Lab second = new(pair.Number("L2"), pair.Number("a2"), pair.Number("b2"));
            Assert.Equal(pair.Number("dE00"), Lab.DeltaE2000(first, second), 0.5e-4);
            Assert.Equal(pair.Number("dE00_10dp_computed"), Lab.DeltaE2000(first, second), 1e-9);
            Assert.Equal(Lab.DeltaE2000(first, second), Lab.DeltaE2000(second, first), 1e-9);
        });
    }

    [Fact] // IEC 61966-2-1:1999 and ISO/CIE 11664-4, worked independently: Data/srgb_xyz_lab_worked.csv
    public void Codes_become_linear_light_and_Lab_as_worked_from_the_standards()
    {
        IReadOnlyList<ReferenceRow> rows = ReferenceTable.Read("srgb_xyz_lab_worked.csv");

        Assert.Equal(16, rows.Count);
        Assert.All(rows, row =>
        {
            LinearRgb linear = new(
                SrgbCurve.Linear(row.Int("R8") / 255.0), SrgbCurve.Linear(row.Int("G8") / 255.0), SrgbCurve.Linear(row.Int("B8") / 255.0));
            Assert.Equal(row.Number("linR"), linear.R, 1e-9);
            Assert.Equal(row.Number("linG"), linear.G, 1e-9);
            Assert.Equal(row.Number("linB"), linear.B, 1e-9);
            Assert.Equal(row.Number("Y"), linear.Luminance, 1e-9);
            Lab lab = linear.ToLab();
            Assert.Equal(row.Number("L"), lab.L, 1e-7);
            Assert.Equal(row.Number("a"), lab.A, 1e-6);
            Assert.Equal(row.Number("b"), lab.B, 1e-6);
        });
    }
}
