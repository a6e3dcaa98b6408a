using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>The fitted law as it stands in the reading.</summary>
internal static class LawReport
{
    private const int CurvePoints = 60;

    public static FittedModel Of(LawChoice choice, MarkDraws draws, LackOfFit lackOfFit, PlateauTest levelling) => new()
    {
        Name = choice.Best.Law.Curve.Name,
        Parameters =
            new(ParametersOf(choice).Where(pair => double.IsFinite(pair.Value.Value) && double.IsFinite(pair.Value.StandardError))),
        Diagnostics = new(DiagnosticsOf(choice, draws, lackOfFit, levelling)),
        Curve = CurveOf(choice, draws),
    };

    /// <summary>What every law has carries the spread between the laws in its error; what belongs to the chosen curve does not.</summary>
    private static IEnumerable<KeyValuePair<string, Measured>> ParametersOf(LawChoice choice)
    {
        LawFit fit = choice.Best;
        DoseLaw law = fit.Law;
        yield return Common("strongestMark", of => p => of.Law.Strongest(p));
        if (fit.IsPeaked) yield return Parameter("peakDose", p => law.Curve.Peak(law.ShapeOf(p)) * Math.Exp(law.LnHighestDose(p)));
        foreach (CurveFigure figure in law.Curve.Figures)
            yield return Parameter(
                figure.Name, p => figure.Of(law.ShapeOf(p).ToArray(), p[DoseLaw.Amplitude], Math.Exp(law.LnHighestDose(p))));
        yield return Common("speedExponent", _ => p => p[DoseLaw.SpeedExponent]);
        for (int level = 1; level < fit.Card.FocusOffsetsMm.Count; level++)
        {
            int at = DoseLaw.FirstFocus + level - 1;
            yield return Common($"efficiencyAtFocus{fit.Card.FocusOffsetsMm[level]:0.###}Mm", _ => p => Math.Exp(p[at]));
        }

        KeyValuePair<string, Measured> Common(string name, Func<LawFit, Func<double[], double>> figure) =>
            new(name, new(Rounded(figure(fit)(fit.Parameters.ToArray())), Rounded(choice.StandardError(figure))));

        KeyValuePair<string, Measured> Parameter(string name, Func<double[], double> function) =>
            new(name, new(Rounded(function(fit.Parameters.ToArray())), Rounded(fit.StandardError(function))));
    }

    private static IEnumerable<KeyValuePair<string, double>> DiagnosticsOf(LawChoice choice, MarkDraws draws, LackOfFit lackOfFit,
        PlateauTest levelling)
    {
        LawFit fit = choice.Best;
        double[] residuals = fit.Residuals();
        yield return new("cellsUsed", fit.Card.Marked.Count);
        yield return new("outliers", choice.Outliers.Count);
        yield return new("akaikeWeight", Rounded(choice.Laws[0].Weight));
        yield return new("degreesOfFreedom", Rounded(fit.DegreesOfFreedom));
        yield return new("effectiveDegreesOfFreedom", Rounded(fit.EffectiveDegreesOfFreedom));
        yield return new("residualDeviation", Rounded(Math.Sqrt(residuals.Sum(r => r * r) / fit.DegreesOfFreedom)));
        yield return new("deviationFromLaw", Rounded(draws.Deviation));
        yield return new("extraDeviation", Rounded(fit.ExtraDeviation));
        yield return new("chanceInShareOfMark", fit.Chance == ChanceKind.Mark ? 1 : 0);
        yield return new("plateauShare", Rounded(levelling.PlateauShare));
        yield return new("levelledProbability", Rounded(levelling.LevelledProbability));
        yield return new("halfwayProbability", Rounded(levelling.HalfwayProbability));
        if (lackOfFit.Probability is { } p) yield return new("lackOfFitProbability", Rounded(p));
        yield return new("lackOfFitDeviation", Rounded(lackOfFit.PatternDeviation));
        if (fit.ReciprocityProbability() is { } reciprocity) yield return new("energyOnlyProbability", Rounded(reciprocity));
        yield return new("middleSpeedMmPerMin", Rounded(fit.Card.MiddleSpeedMmPerMin));
    }

    private static FittedCurve CurveOf(LawChoice choice, MarkDraws draws)
    {
        LawFit fit = choice.Best;
        double highest = fit.Law.LnHighestDose(fit.Parameters);
        double[] p = fit.Parameters.ToArray();
        ValueList<CurveCell> cells = fit.Card.Marked
            .Select((cell, i) => (cell.Cell, LnDose: fit.Law.LnEffectiveDose(p, i)))
            .Where(pair => pair.Cell.Card == 0)
            .Select(pair => new CurveCell(pair.Cell.Address.Row, pair.Cell.Address.Column, Rounded(Math.Exp(pair.LnDose))))
            .ToValueList();
        double[] lnDoses = [.. Enumerable.Range(1, CurvePoints).Select(k => highest + Math.Log((double)k / CurvePoints))];
        double[][] strengths = draws.StrengthsAlong(lnDoses);
        ValueList<CurvePoint> points =
            [new(0, 0, 0, 0), .. lnDoses.Select((lnDose, k) => PointAt(lnDose, MarkDraws.Summary([.. strengths.Select(draw => draw[k])])))];
        string axis = fit.HasFreeSpeedExponent
            ? AxisNames.Energy(isAreal: true, fit.Card.MiddleSpeedMmPerMin, p[DoseLaw.SpeedExponent])
            : AxisNames.Energy(isAreal: true);
        return new(axis, cells, points);
    }

    private static CurvePoint PointAt(double lnDose, (double Mean, double Low, double High) strength) =>
        new(Rounded(Math.Exp(lnDose)), Rounded(Math.Max(0, strength.Mean)), Rounded(Math.Max(0, strength.Low)),
            Rounded(Math.Max(0, strength.High)));

    /// <summary>Six digits: more say nothing and make files hard to compare.</summary>
    private static double Rounded(double value)
    {
        if (value == 0 || !double.IsFinite(value)) return value;
        double unit = Math.Pow(10, 5 - Math.Floor(Math.Log10(Math.Abs(value))));
        double rounded = Math.Round(value * unit) / unit;
        return double.IsFinite(rounded) ? rounded : 0;
    }
}
