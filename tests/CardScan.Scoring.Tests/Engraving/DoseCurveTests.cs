using CardScan.Model;
using CardScan.Scoring.Engraving;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Tests.Engraving;

public sealed class DoseCurveTests
{
    private static readonly double[] Powers = [15, 22, 32, 46, 66, 95];
    private static readonly double[] Speeds = [800, 1200, 1800, 2700, 4000, 6000];

    /// <summary>Curves with a shape of each, as a card in the middle of its range shows them.</summary>
    public static TheoryData<string, double[]> Shapes => new()
    {
        { "saturating-exponential", [Math.Log(12), Math.Log(1.2), 0.02] },
        { "four-parameter-logistic", [Math.Log(200), Math.Log(2), 0] },
        { "rise-then-fall", [Math.Log(60), Math.Log(1.3), 0.6, Math.Log(0.25), Math.Log(0.8), 0.02] },
    };

    private static IDoseCurve Curve(string name) =>
        ((IDoseCurve[])[new SaturatingExponential(), new FourParameterLogistic(), new RiseThenFall()]).Single(curve => curve.Name == name);

    [Fact]
    // drc 3.0-1 documentation, ryegrass: b 2.98222, c 0.48141, d 7.79296, e 3.05795. Standard errors are those of the expected
    // Hessian (R nls): 0.45842882, 0.20950604, 0.18973326, 0.18582890.
    public void The_logistic_curve_reproduces_the_ryegrass_example_with_its_standard_errors()
    {
        const int LnOdds = 1, LnSlope = 2, Lower = 3;
        DataTable data = DataTable.Read("ryegrass");
        double[] dose = data.Numbers("conc");
        double[] length = data.Numbers("rootl");
        double most = dose.Max();
        FourParameterLogistic curve = new();

        NonlinearFit fit = NonlinearFit.Minimise(
            (p, r) => { for (int i = 0; i < r.Length; i++) r[i] = length[i] - p[0] * curve.Value(p[1..], dose[i] / most); },
            dose.Length, [0.5, Math.Log(1000), Math.Log(2), 15]);

        // Roots shorten with dose: the curve's lower asymptote, at no dose, is the higher one.
        Func<double[], double>[] published =
        [
            p => Math.Exp(p[LnSlope]),
            UpperAsymptote,
            p => p[Lower] * UpperAsymptote(p),
            p => most * Math.Exp(-p[LnOdds] * Math.Exp(-p[LnSlope]))
        ];
        double[] values = [2.98222867, 0.48140994, 7.79296233, 3.05795517];
        double[] errors = [0.45842882, 0.20950604, 0.18973326, 0.18582890];
        for (int k = 0; k < values.Length; k++)
        {
            Assert.Equal(values[k], published[k](fit.Parameters.ToArray()), 1e-5);
            Assert.Equal(errors[k], ErrorOf(fit, published[k]), 1e-4);
        }

        double UpperAsymptote(double[] p) => p[0] / (p[Lower] + (1 - p[Lower]) * curve.PlateauShare(p[LnOdds]));
    }

    [Theory]
    [MemberData(nameof(Shapes))]
    public void A_curve_rises_to_its_peak_and_falls_from_there(string name, double[] shape)
    {
        IDoseCurve curve = Curve(name);
        double peak = curve.Peak(shape);
        double[] before = [.. Enumerable.Range(1, 50).Select(k => curve.Value(shape, peak * k / 50))];
        double[] past = [.. Enumerable.Range(0, 50).Select(k => curve.Value(shape, peak + (1 - peak) * k / 50))];

        Assert.InRange(peak, 0.05, 1);
        Assert.Equal(before.Order(), before);
        Assert.Equal(past.OrderDescending(), past);
    }

    [Theory]
    [MemberData(nameof(Shapes))]
    public void A_card_burned_by_a_curve_is_called_by_its_name_and_gets_it_back(string name, double[] shape)
    {
        Reading scored = CardScorer.Score(Burned(Curve(name), shape, chance: 0.003, seed: 1), ScoringOptions.Default);

        Assert.Equal(name, scored.Model!.Name);
        IDoseCurve curve = Curve(name);
        Measured strongest = scored.Model.Parameters["strongestMark"];
        Assert.InRange(0.8 * curve.Value(shape, curve.Peak(shape)), strongest.Value - 4 * strongest.StandardError,
            strongest.Value + 4 * strongest.StandardError);
        foreach (CurveFigure figure in curve.Figures)
            Assert.True(scored.Model.Parameters[figure.Name].StandardError > 0, figure.Name);
    }

    [Fact]
    public void More_dose_than_the_peak_is_no_full_mark()
    {
        (string name, double[] shape) = ("rise-then-fall", [Math.Log(60), Math.Log(1.3), 0.6, Math.Log(0.25), Math.Log(0.8), 0.02]);
        RiseThenFall curve = new();
        for (int seed = 1; seed <= 10; seed++)
        {
            Reading scored = CardScorer.Score(Burned(Curve(name), shape, chance: 0.02, seed), ScoringOptions.Default);

            Recommendation fastest = Assert.Single(scored.Recommendations, r => r.Goal == Goal.FastestFullMark);
            double part = fastest.PowerPercent / fastest.SpeedMmPerMin / (Powers.Max() / Speeds.Min());
            Assert.InRange(curve.Value(shape, part) / curve.Value(shape, curve.Peak(shape)), 0.92, 1);
            Assert.Contains(scored.Advice, advice => advice.Code == "weakens-at-high-dose");
        }
    }

    [Fact]
    public void Laws_that_fit_alike_share_the_say()
    {
        LawChoice choice =
            LawFitter.Fit(EngravedCard.Of(Burned(new FourParameterLogistic(), [Math.Log(40), Math.Log(1.5), 0], chance: 0.06, seed: 2)))!;

        Assert.True(choice.Laws.Count > 1);
        Assert.Equal(1, choice.Laws.Sum(law => law.Weight), 1e-12);
    }

    private static double ErrorOf(NonlinearFit fit, Func<double[], double> figure)
    {
        double[] p = fit.Parameters.ToArray();
        double[] gradient = [.. p.Select((centre, j) =>
        {
            double step = 1e-5 * Math.Max(Math.Abs(centre), 0.1);
            double[] above = [.. p], below = [.. p];
            above[j] += step;
            below[j] -= step;
            return (figure(above) - figure(below)) / (2 * step);
        })];
        double variance = 0;
        for (int j = 0; j < p.Length; j++)
            for (int k = 0; k < p.Length; k++) variance += gradient[j] * fit.Cofactors![j, k] * gradient[k];
        return Math.Sqrt(variance * fit.UnitVariance);
    }

    /// <summary>A card that follows a curve in its energy alone, with an amplitude of 0.8 and chance in shares of the mark.</summary>
    private static Reading Burned(IDoseCurve curve, double[] shape, double chance, int seed)
    {
        Chance draw = new(seed);
        Plan plan = TestPlan.Of(Process.Engrave, Powers, Speeds);
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell =>
            {
                CellSettings settings = plan.SettingsOf(cell);
                double part = settings.PowerPercent / settings.SpeedMmPerMin / (Powers.Max() / Speeds.Min());
                double strength = 0.8 * curve.Value(shape, part) * (1 + chance * draw.Normal());
                return new CellReading
                {
                    Row = cell.Row,
                    Column = cell.Column,
                    Settings = settings,
                    Darkness = new(-Math.Log10(1 - Math.Min(strength, 0.99)), 0.002)
                };
            }).ToValueList(),
        };
    }
}
