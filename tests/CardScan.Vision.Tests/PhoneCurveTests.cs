using CardScan.Model;

namespace CardScan.Vision.Tests;

/// <summary>What series of a phone let expect of its next photo.</summary>
public sealed class PhoneCurveTests
{
    private static readonly double[] Spread = [0.3, 0.2, 0.12, 0.07, 0.04];

    private static readonly double[] Usual = [-0.3, 0.15, 0.08, -0.03, 0.02];

    [Fact]
    public void A_phone_without_a_series_is_not_known()
    {
        Assert.Null(CardReader.ResponseOfPhone([]));
        // A reading that was made before covariances were kept.
        Assert.Null(CardReader.ResponseOfPhone([new(PhotoResponse.Series, [.. Usual])]));
        // Numbers that no series tells: a curve that no phone has, and a covariance that is none.
        Assert.Null(CardReader.ResponseOfPhone([Told([-50, 0, 0, 0, 0], 1)]));
        Assert.Null(CardReader.ResponseOfPhone([Told(Usual, -1)]));

        static PhotoResponse Told(double[] terms, double variance) =>
            new(PhotoResponse.Series, [.. terms]) { Covariance = Diagonal([1e-4, 1e-4, 1e-4, 1e-4, 1e-4 * variance]) };
    }

    [Fact]
    public void One_series_moves_what_is_expected_half_way_and_leaves_the_error_as_it_was()
    {
        CameraResponse curve = Expected(Usual);

        Assert.Equal((PhotoResponse.Phone, 1), (curve.Record.Source, curve.Record.SeriesCount));
        Assert.InRange(curve.Record.Terms[0] / Usual[0], 0.4, 0.7);
        Assert.Equal(PhotoQuality.UsualDarknessScaleError, curve.UsualError);
    }

    [Fact]
    public void Series_that_agree_are_believed()
    {
        CameraResponse two = Expected(Usual, Usual), five = Expected(Usual, Usual, Usual, Usual, Usual);

        // One photo in ten may be taken otherwise, whatever was seen so far.
        Assert.InRange(two.UsualError, 0.06, 0.12);
        Assert.InRange(five.UsualError, 0.05, two.UsualError);
        Assert.Equal(1, five.Record.Terms[0] / Usual[0], 0.1);
    }

    [Fact]
    public void Series_that_disagree_are_not()
    {
        CameraResponse curve = Expected(Usual, [.. Usual.Select(term => -term)], Usual, [.. Usual.Select(term => -term)]);
        Assert.InRange(curve.UsualError, 0.13, PhotoQuality.UsualDarknessScaleError);
        Assert.InRange(Math.Abs(curve.Record.Terms[0]), 0, 0.05);
    }

    [Theory] // Phones that always do the same, that adapt a little, and that do anything.
    [InlineData(0.02)]
    [InlineData(0.2)]
    [InlineData(0.9)]
    public void The_next_photo_lies_where_it_is_expected(double share)
    {
        const int phones = 400, series = 3;
        Random random = new(5);
        int within = 0;
        for (int i = 0; i < phones; i++)
        {
            double[] own = Draw(Math.Sqrt(1 - share)), next = Scene();
            CameraResponse curve = Expected([.. Enumerable.Range(0, series).Select(_ => Scene())]);
            double error = curve.Record.Terms[0] - next[0], stated = Math.Sqrt(curve.Record.Covariance[0]);
            if (Math.Abs(error) <= 2 * stated) within++;

            double[] Scene() => [.. own.Zip(Draw(Math.Sqrt(share)), (a, b) => a + b)];
        }

        Assert.InRange(within / (double)phones, 0.92, 1);

        double[] Draw(double size) => [.. Spread.Select(spread =>
            size * spread * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()))];
    }

    [Fact]
    public void What_is_seen_through_a_curve_and_back_is_what_was_seen()
    {
        CameraResponse curve = Expected(Usual, Usual, Usual);
        LinearRgb seen = new(0.4, 0.2, 0.05);
        LinearRgb back = curve.Redo(new(curve.Undo(seen.R), curve.Undo(seen.G), curve.Undo(seen.B)));
        Assert.Equal(seen.R, back.R, 1e-3);
        Assert.Equal(seen.G, back.G, 1e-3);
        Assert.Equal(seen.B, back.B, 1e-3);
    }

    /// <summary>What is expected after series that each tell the terms to a tenth of the spread from phone to phone.</summary>
    private static CameraResponse Expected(params double[][] told) => CardReader.ResponseOfPhone([.. told.Select(terms =>
        new PhotoResponse(PhotoResponse.Series, [.. terms])
        {
            Covariance = Diagonal([.. Spread.Select(spread => 0.01 * spread * spread)]),
        })])!;

    private static ValueList<double> Diagonal(double[] variances) =>
        [.. Enumerable.Range(0, variances.Length).SelectMany(row => Enumerable.Range(0, row + 1)
            .Select(column => column == row ? variances[row] : 0))];
}
