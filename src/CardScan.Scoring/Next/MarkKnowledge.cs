using CardScan.Model;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Next;

/// <summary>What an engraved card tells of a saturating curve of four parameters: strongest mark, place, ln shape, speed exponent.</summary>
/// <remarks>
/// strength = A · (1 − exp(−exp(g · (ln power − β · ln speed − μ)))). Where further cells tell most depends on where the
/// curve rises and levels off, which this form follows for every law that the scoring may choose; its threshold is left
/// out. Weak knowledge of β (near 1) and g stands in where the card does not vary both settings.
/// </remarks>
internal sealed class MarkKnowledge : CardKnowledge
{
    private const int Strongest = 0, Place = 1, LnShape = 2, SpeedExponent = 3;

    private const double UsualLnShape = 0.2, LnShapeApart = 0.7, SpeedExponentApart = 0.4;

    /// <summary>Error of a mark below which none is believed: unevenness that no photo shows.</summary>
    private const double LeastDeviation = 0.01;

    /// <summary>A cell is an open question where its mark is between these shares of the strongest.</summary>
    private const double LeastOpen = 0.5, MostOpen = 0.99;

    private readonly double[] _p;
    private readonly double _deviation;
    private readonly double _middleLnSpeed;
    private readonly double _lnLevel;

    private MarkKnowledge(double[] p, double deviation, double middleLnSpeed, double fullMarkShare, IEnumerable<(double LnPower, double LnSpeed)> burned)
    {
        (_p, _deviation, _middleLnSpeed) = (p, deviation, middleLnSpeed);
        _lnLevel = Math.Log(-Math.Log(1 - fullMarkShare));
        Known[LnShape, LnShape] = 1 / (LnShapeApart * LnShapeApart);
        Known[SpeedExponent, SpeedExponent] = 1 / (SpeedExponentApart * SpeedExponentApart);
        foreach ((double lnPower, double lnSpeed) in burned) Add(Known, lnPower, lnSpeed);
    }

    /// <summary>Times the dose of a setting at which a full mark is reached by best estimate.</summary>
    public double DoseFactorToFullMark(CellSettings settings) =>
        Math.Exp(LnLimit(Math.Log(settings.SpeedMmPerMin)) - Math.Log(settings.PowerPercent));

    /// <summary>Fits the curve to the cells that share the passes, line interval and focus of the setting in question.</summary>
    /// <param name="reading">A scored reading: its outliers are flagged.</param>
    /// <param name="about">The setting in question.</param>
    /// <param name="fullMarkShare">Share of the strongest mark that is a full mark.</param>
    /// <returns>Null where fewer than three cells are left, or they follow no rising curve.</returns>
    public static MarkKnowledge? Of(Reading reading, CellSettings about, double fullMarkShare)
    {
        (double LnPower, double LnSpeed, double Strength)[] cells = [.. reading.Cells
            .Where(cell => cell.MarkStrength is { } mark && double.IsFinite(mark.Value)
                && cell.Settings is { PowerPercent: > 0, SpeedMmPerMin: > 0 } && IsAlike(cell.Settings, about)
                && !cell.Flags.Any(flag => CellFlag.IsDisqualifying(flag) || flag == CellFlag.Outlier))
            .Select(cell => (Math.Log(cell.Settings.PowerPercent), Math.Log(cell.Settings.SpeedMmPerMin), cell.MarkStrength!.Value))];
        if (cells.Length < 3) return null;

        double middle = cells.Average(cell => cell.LnSpeed);
        double[] lnDoses = [.. cells.Select(cell => cell.LnPower - cell.LnSpeed + middle)];
        double most = cells.Max(cell => cell.Strength);
        NonlinearFit? best = null;
        foreach (double place in (ReadOnlySpan<double>)[lnDoses.Min(), lnDoses.Average(), lnDoses.Max()])
        {
            NonlinearFit fit = NonlinearFit.Minimise(Residuals, cells.Length + 2, [most, place, UsualLnShape, 1],
                [0, lnDoses.Min() - 3, -1.5, -1], [3 * most + 0.1, lnDoses.Max() + 3, 2, 3]);
            if (best is null || fit.SumOfSquares < best.SumOfSquares) best = fit;
        }

        if (best is not { Stop: not FitStop.NotFinite }) return null;
        double[] p = best.Parameters.ToArray();
        double[] residuals = new double[cells.Length + 2];
        Residuals(p, residuals);
        double deviation = Math.Sqrt(residuals.Take(cells.Length).Sum(r => r * r) / Math.Max(1, cells.Length - 4)) * LeastDeviation;
        return new(p, Math.Max(deviation, LeastDeviation), middle, fullMarkShare, cells.Select(cell => (cell.LnPower, cell.LnSpeed)));

        void Residuals(ReadOnlySpan<double> parameters, Span<double> into)
        {
            for (int i = 0; i < cells.Length; i++)
                into[i] = (cells[i].Strength - parameters[Strongest] * Share(parameters, cells[i].LnPower, cells[i].LnSpeed - middle)) / LeastDeviation;
            into[cells.Length] = (parameters[LnShape] - UsualLnShape) / LnShapeApart;
            into[cells.Length + 1] = (parameters[SpeedExponent] - 1) / SpeedExponentApart;
        }
    }

    public override void Add(double[,] information, double lnPower, double lnSpeed)
    {
        double shape = Math.Exp(_p[LnShape]), speed = lnSpeed - _middleLnSpeed;
        double above = lnPower - _p[SpeedExponent] * speed - _p[Place];
        double reach = Math.Exp(Math.Min(shape * above, 50));
        double slope = _p[Strongest] * shape * reach * Math.Exp(-reach);
        double[] row = [1 - Math.Exp(-reach), -slope, slope * above, -slope * speed];
        for (int j = 0; j < row.Length; j++)
        {
            for (int k = 0; k < row.Length; k++) information[j, k] += row[j] * row[k] / (_deviation * _deviation);
        }
    }

    public override double LnLimit(double lnSpeed) => _p[Place] + _p[SpeedExponent] * (lnSpeed - _middleLnSpeed) + _lnLevel * Math.Exp(-_p[LnShape]);

    public override double[] LimitGradient(double lnSpeed) => [0, 1, -_lnLevel * Math.Exp(-_p[LnShape]), lnSpeed - _middleLnSpeed];

    public override bool IsOpen(double lnPower, double lnSpeed) => Share(_p, lnPower, lnSpeed - _middleLnSpeed) is > LeastOpen and < MostOpen;

    private static double Share(ReadOnlySpan<double> p, double lnPower, double speed) =>
        1 - Math.Exp(-Math.Exp(Math.Min(Math.Exp(p[LnShape]) * (lnPower - p[SpeedExponent] * speed - p[Place]), 50)));

    private static bool IsAlike(CellSettings settings, CellSettings about) =>
        settings.Passes == about.Passes && settings.FocusOffsetMm == about.FocusOffsetMm && settings.LineIntervalMm == about.LineIntervalMm;
}
