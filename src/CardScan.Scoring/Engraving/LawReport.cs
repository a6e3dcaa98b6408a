using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>The fitted law as it stands in the reading.</summary>
internal static class LawReport
{
    private const int CurvePoints = 60;

    public static FittedModel Of(LawFit fit, LackOfFit lackOfFit, Levelling levelling) => new()
    {
        Name = "saturating-exponential",
        Parameters = new(ParametersOf(fit).Where(pair => double.IsFinite(pair.Value.Value) && double.IsFinite(pair.Value.StandardError))),
        Diagnostics = new(DiagnosticsOf(fit, lackOfFit, levelling)),
        Curve = CurveOf(fit),
    };

    /// <summary>Share of its plateau that the strongest cell reaches.</summary>
    public static double PlateauShare(ReadOnlySpan<double> p) => 1 - Math.Exp(-Math.Exp(p[DoseLaw.LnSteepness]));

    private static IEnumerable<KeyValuePair<string, Measured>> ParametersOf(LawFit fit)
    {
        yield return Parameter("strongestMark", p => p[DoseLaw.Strongest]);
        yield return Parameter("plateau", p => p[DoseLaw.Strongest] / PlateauShare(p));
        yield return Parameter("thresholdDose", p => p[DoseLaw.Threshold] * Math.Exp(fit.Law.LnHighestDose(p)));
        yield return Parameter("scaleDose", p =>
            (1 - p[DoseLaw.Threshold]) * Math.Exp(fit.Law.LnHighestDose(p) - p[DoseLaw.LnSteepness] * Math.Exp(-p[DoseLaw.LnShape])));
        yield return Parameter("shape", p => Math.Exp(p[DoseLaw.LnShape]));
        yield return Parameter("speedExponent", p => p[DoseLaw.SpeedExponent]);
        for (int level = 1; level < fit.Card.FocusOffsetsMm.Count; level++)
        {
            int at = DoseLaw.FirstFocus + level - 1;
            yield return Parameter($"efficiencyAtFocus{fit.Card.FocusOffsetsMm[level]:0.###}Mm", p => Math.Exp(p[at]));
        }

        KeyValuePair<string, Measured> Parameter(string name, Func<double[], double> function) =>
            new(name, new(Rounded(function(fit.Parameters.ToArray())), Rounded(fit.StandardError(function))));
    }

    private static IEnumerable<KeyValuePair<string, double>> DiagnosticsOf(LawFit fit, LackOfFit lackOfFit, Levelling levelling)
    {
        double[] residuals = fit.Residuals();
        yield return new("cellsUsed", fit.Card.Marked.Count);
        yield return new("outliers", fit.Outliers.Count);
        yield return new("degreesOfFreedom", fit.DegreesOfFreedom);
        yield return new("effectiveDegreesOfFreedom", Rounded(fit.EffectiveDegreesOfFreedom));
        yield return new("residualDeviation", Rounded(Math.Sqrt(residuals.Sum(r => r * r) / fit.DegreesOfFreedom)));
        yield return new("extraDeviation", Rounded(fit.ExtraDeviation));
        yield return new("chanceInShareOfMark", fit.Chance == ChanceKind.Mark ? 1 : 0);
        yield return new("plateauShare", Rounded(PlateauShare(fit.Parameters)));
        yield return new("levelledProbability", Rounded(levelling.LevelledProbability));
        yield return new("halfwayProbability", Rounded(levelling.HalfwayProbability));
        if (lackOfFit.Probability is { } p) yield return new("lackOfFitProbability", Rounded(p));
        yield return new("lackOfFitDeviation", Rounded(lackOfFit.PatternDeviation));
        if (fit.ReciprocityProbability() is { } reciprocity) yield return new("energyOnlyProbability", Rounded(reciprocity));
        yield return new("middleSpeedMmPerMin", Rounded(fit.Card.MiddleSpeedMmPerMin));
    }

    private static FittedCurve CurveOf(LawFit fit)
    {
        double highest = fit.Law.LnHighestDose(fit.Parameters);
        double[] p = fit.Parameters.ToArray();
        ValueList<CurveCell> cells = fit.Card.Marked
            .Select((cell, i) => new CurveCell(cell.Cell.Address.Row, cell.Cell.Address.Column, Rounded(Math.Exp(fit.Law.LnEffectiveDose(p, i)))))
            .ToValueList();
        ValueList<CurvePoint> points = Enumerable.Range(0, CurvePoints + 1)
            .Select(k => PointAt(fit, highest, (double)k / CurvePoints))
            .ToValueList();
        string speed = fit.HasFreeSpeedExponent
            ? $"effective dose, J/mm² at {fit.Card.MiddleSpeedMmPerMin:0} mm/min (speed exponent {p[DoseLaw.SpeedExponent]:0.00})"
            : "dose, J/mm²";
        return new(speed, cells, points);
    }

    private static CurvePoint PointAt(LawFit fit, double lnHighest, double part)
    {
        double x = part * Math.Exp(lnHighest);
        // The band is that of the curve at this dose: the highest dose moves with the speed exponent, the abscissa does not.
        double strength = Strength(fit.Parameters.ToArray());
        double half = part == 0 ? 0 : fit.StudentQuantile * fit.StandardError(Strength);
        return new(Rounded(x), Rounded(strength), Rounded(Math.Max(0, strength - half)), Rounded(strength + half));

        double Strength(double[] q) => q[DoseLaw.Strongest] * DoseLaw.ShareAt(q, x == 0 ? 0 : x / Math.Exp(fit.Law.LnHighestDose(q)));
    }

    /// <summary>Six digits: more say nothing and make files hard to compare.</summary>
    private static double Rounded(double value)
    {
        if (value == 0 || !double.IsFinite(value)) return value;
        double unit = Math.Pow(10, 5 - Math.Floor(Math.Log10(Math.Abs(value))));
        double rounded = Math.Round(value * unit) / unit;
        return double.IsFinite(rounded) ? rounded : 0;
    }
}
