using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving.Doubt;

/// <summary>What a card's cells leave open of one law, of how the material deviates from it, and of what its place did to a cell.</summary>
/// <remarks>
/// Observations = law(θ) + deviations + lines + cards + chance, linear about the fit. Deviations have a spread of τ
/// shares of the strongest mark (the two at the strong end may have a larger one of their own), lines (rows and columns
/// of cells that came out weaker together: focus, extraction, stripes) one of ρ, both in some steps of the chance of a
/// cell; the chance itself has Jeffreys' prior, so that each step is one normal inverse-gamma model with a closed
/// evidence (A. Gelman et al., Bayesian Data Analysis, 3rd ed., 2013, ch. 3; from memory).
/// </remarks>
internal sealed class LawPosterior
{
    /// <summary>Spreads that are tried, in deviations of a cell; the first stands for none.</summary>
    private static readonly double[] DeviationSteps = [None, 0.25, 0.5, 1, 2, 4, 8], TopSteps = [None, 5, 20], LineSteps = [None, 0.5, 1.5];

    private const double None = 1e-3;

    /// <summary>
    /// Beforehand, deviations of this share of the strongest mark are e times less likely than small ones (chosen on
    /// tuning seeds: doubled, own laws are stated less surely than they are; halved, more foreign ones too surely).
    /// </summary>
    private const double UsualDeviation = 0.02;

    /// <summary>Weight beforehand of no deviation at all, against one of each step; likewise of lines and of the top.</summary>
    private const double NoneWeight = 5;

    /// <summary>Differences between cards that are thinkable at all, in those spreads: about half the dose.</summary>
    private const double WidestCard = 20;

    private const double DerivativeStep = 1e-4;

    private readonly int[] _free;
    private readonly LawPoint _fitted;
    private readonly (LawPoint Above, LawPoint Below, double Step)[] _beside;
    private readonly int _settings;
    private readonly int _lines;
    private readonly int[] _cards;
    private readonly double[][] _columns;
    private readonly double[,] _gram;
    private readonly double[] _gradient;
    private readonly double[] _precision;
    private double _square;

    public LawPosterior(LawFit fit)
    {
        Fit = fit;
        _fitted = PointAt(fit.Parameters.ToArray());
        _free = [.. Enumerable.Range(0, fit.Parameters.Length).Where(j => !fit.Box.IsFixed(j))];
        _beside = [.. _free.Select(Beside)];
        Terms = new(fit);
        _settings = _free.Length + Terms.Count;
        Burned = RowsOf([.. Enumerable.Range(0, fit.Card.Burned.Count).Select(Terms.PointOf)], Terms.Fill,
            (p, i) => fit.Law.LnEffectiveDose(p, i));
        _cards = [.. fit.Card.Marked.Select(cell => cell.Cell.Card).Distinct().Order()];
        if (_cards.Length < 2) _cards = [];
        double[][] lines = [.. LineColumns()], cards = [.. CardColumns()];
        _lines = lines.Length;
        _columns = [.. Enumerable.Range(0, _settings).Select(SettingColumn), .. lines, .. cards];
        _precision = new double[_columns.Length];
        _gram = new double[_columns.Length, _columns.Length];
        for (int i = 0; i < _columns.Length; i++)
            for (int j = 0; j <= i; j++) _gram[i, j] = Vectors.Dot(_columns[i], _columns[j]);
        _gradient = [.. _columns.Select(column => Vectors.Dot(column, fit.ScaledResiduals))];
        _square = Vectors.Dot(fit.ScaledResiduals, fit.ScaledResiduals);
        AddKnown();
        Steps = [.. Tried()];
    }

    public LawFit Fit { get; }

    /// <summary>How the material may deviate from the law.</summary>
    public DeviationTerms Terms { get; }

    /// <summary>The burned cells' settings, the used ones first.</summary>
    public SettingRows Burned { get; }

    /// <summary>One posterior a pair of spreads that was tried.</summary>
    public IReadOnlyList<PosteriorStep> Steps { get; }

    /// <summary>Settings of other powers beside a burned cell's, at one change of speed.</summary>
    public SettingRows RowsBeside(int burned, double[] lnPowerChanges, double lnSpeedChange) => RowsOf(
        [.. lnPowerChanges.Select(change => Terms.Beside(Terms.PointOf(burned), change, lnSpeedChange))], Terms.Fill,
        (p, i) => Fit.Law.LnEffectiveDose(p, burned) + lnPowerChanges[i] - p[DoseLaw.SpeedExponent] * lnSpeedChange);

    /// <summary>Effective doses, ln, whatever the power and speed that make them.</summary>
    public SettingRows RowsAtDoses(double[] lnDoses) => RowsOf(
        [.. lnDoses.Select(lnDose => new DoubtPoint(lnDose - _fitted.LnHighest, 0, 0))], Terms.FillAtDose, (_, i) => lnDoses[i]);

    /// <summary>Residuals of the used cells over their deviations, at the numbers of a draw.</summary>
    public double[] ScaledResiduals(ReadOnlySpan<double> numbers)
    {
        double[] residuals = [.. Fit.ScaledResiduals];
        for (int k = 0; k < _columns.Length; k++) Vectors.AddScaled(residuals, -numbers[k], _columns[k]);
        return residuals;
    }

    /// <summary>
    /// What adds up in the ln of the dose: the law's parameters, deviations by dose, and the scales of power and speed;
    /// over the cells' deviations.
    /// </summary>
    public double[][] AdditiveColumns => _columns[..(_settings - Terms.InteractionCount)];

    /// <summary>
    /// Root of what the cells, and what is known beforehand, say of those at some spread of the deviations; null
    /// where they leave it open.
    /// </summary>
    public Cholesky? AdditiveRoot(double spread)
    {
        double[] precision = _precision[..(_settings - Terms.InteractionCount)];
        precision.AsSpan(_free.Length).Fill(1 / (spread * spread));
        return Cholesky.Of(_gram, precision);
    }

    /// <summary>The law at some parameters.</summary>
    private sealed record LawPoint(double[] Parameters, double LnHighest);

    private LawPoint PointAt(double[] p) => new(p, Fit.Law.LnHighestDose(p));

    /// <summary>The law to either side of the fit in one parameter, within its box.</summary>
    private (LawPoint Above, LawPoint Below, double Step) Beside(int parameter)
    {
        double fitted = _fitted.Parameters[parameter], step = DerivativeStep * Math.Max(Math.Abs(fitted), 0.1);
        double[] above = [.. _fitted.Parameters], below = [.. _fitted.Parameters];
        above[parameter] = Math.Min(fitted + step, Fit.Box.Upper[parameter]);
        below[parameter] = Math.Max(fitted - step, Fit.Box.Lower[parameter]);
        return (PointAt(above), PointAt(below), above[parameter] - below[parameter]);
    }

    /// <summary>
    /// Settings as the deviations see them, what fills in their deviations, and the ln of the effective dose of
    /// each by some parameters.
    /// </summary>
    private SettingRows RowsOf(DoubtPoint[] points, Action<DoubtPoint, Span<double>> fill, Func<double[], int, double> lnDose)
    {
        int count = points.Length;
        double[] fitted = new double[count], slopes = new double[count * _settings], below = new double[count],
            deviations = new double[Terms.Count];
        Strengths(_fitted, fitted);
        for (int k = 0; k < _free.Length; k++)
        {
            Span<double> slope = slopes.AsSpan(k * count, count);
            Strengths(_beside[k].Above, slope);
            Strengths(_beside[k].Below, below);
            for (int i = 0; i < count; i++) slope[i] = (slope[i] - below[i]) / _beside[k].Step;
        }

        for (int i = 0; i < count; i++)
        {
            fill(points[i], deviations);
            for (int k = 0; k < deviations.Length; k++) slopes[(_free.Length + k) * count + i] = deviations[k] * Fit.Strongest;
        }

        return new(fitted, slopes);

        void Strengths(LawPoint at, Span<double> strengths)
        {
            for (int i = 0; i < strengths.Length; i++) strengths[i] = lnDose(at.Parameters, i) - at.LnHighest;
            Fit.Law.Curve.Evaluate(Fit.Law.ShapeOf(at.Parameters), strengths);
            foreach (ref double strength in strengths) strength *= at.Parameters[DoseLaw.Amplitude];
        }
    }

    private double[] SettingColumn(int number)
    {
        ReadOnlySpan<double> slopes = Burned.SlopesOf(number);
        double[] column = new double[Fit.Deviations.Length];
        for (int i = 0; i < column.Length; i++) column[i] = slopes[i] / Fit.Deviations[i];
        return column;
    }

    /// <summary>Rows and columns of three cells or more, each with a share of the mark in common.</summary>
    private IEnumerable<double[]> LineColumns()
    {
        MarkedCell[] cells = [.. Fit.Card.Marked];
        IEnumerable<IGrouping<(int, int), int>> lines = ((Func<MarkedCell, (int, int)>[])
            [cell => (cell.Cell.Card, cell.Cell.Address.Row), cell => (cell.Cell.Card, -1 - cell.Cell.Address.Column)])
            .SelectMany(lineOf => Enumerable.Range(0, cells.Length).GroupBy(i => lineOf(cells[i])));
        foreach (IGrouping<(int, int), int> line in lines.Where(line => line.Count() >= 3))
        {
            double[] column = new double[cells.Length];
            foreach (int i in line) column[i] = Terms.ScaleAt(Terms.PointOf(i)) * Fit.Strongest / Fit.Deviations[i];
            yield return column;
        }
    }

    /// <summary>
    /// Where a card's dose stands among the numbers of a draw, and the strength of its marks behind it, in deviations
    /// of cards burned alike; −1 where it has none.
    /// </summary>
    public int NumberOfCard(int card) => Array.IndexOf(_cards, card) is >= 0 and var index ? _settings + _lines + 2 * index : -1;

    /// <summary>Where several cards are joined: each one's dose, and the strength of its marks, against all.</summary>
    private IEnumerable<double[]> CardColumns()
    {
        MarkedCell[] cells = [.. Fit.Card.Marked];
        foreach (int card in _cards)
        {
            yield return OfCard(card, point => CardSpread.OfDose * Terms.SlopeAt(point));
            yield return OfCard(card, point => CardSpread.OfMark * Terms.ScaleAt(point));
        }

        double[] OfCard(int card, Func<DoubtPoint, double> effect) =>
            [.. cells.Select((cell, i) => cell.Cell.Card == card ? effect(Terms.PointOf(i)) * Fit.Strongest / Fit.Deviations[i] : 0)];
    }

    /// <summary>What is known beforehand: the laws' shapes, their boxes where nothing better is, and that cards are burned alike.</summary>
    private void AddKnown()
    {
        for (int k = 0; k < _free.Length; k++)
        {
            double half = _free[k] == DoseLaw.Amplitude ? Fit.Strongest : (Fit.Box.Upper[_free[k]] - Fit.Box.Lower[_free[k]]) / 2;
            _precision[k] = 1 / (half * half);
        }

        foreach ((int parameter, double usual, double spread) in Fit.Law.Known)
        {
            int at = Array.IndexOf(_free, parameter);
            if (at < 0) continue;
            double distance = (usual - _fitted.Parameters[parameter]) / spread;
            _precision[at] = 1 / (spread * spread);
            _gradient[at] += distance / spread;
            _square += distance * distance;
        }

        for (int k = _settings + _lines; k < _columns.Length; k++) _precision[k] = 1;
    }

    private IEnumerable<PosteriorStep> Tried()
    {
        double chance = Fit.MiddleDeviation / Fit.Strongest;
        double none = double.NaN;
        foreach ((double deviation, double top, double line) in
            from line in _lines > 0 ? LineSteps : LineSteps[..1]
            from top in TopSteps
            from deviation in DeviationSteps
            select (deviation, top, line))
        {
            if (StepOf(deviation * chance, Math.Max(top, deviation) * chance, line * chance) is not { } step) continue;
            if (double.IsNaN(none)) none = step.LnEvidence;
            double prior = -(deviation + line) * chance / UsualDeviation
                + new[] { deviation, top, line }.Count(spread => spread == None) * Math.Log(NoneWeight);
            yield return step with { LnWeight = step.LnEvidence - none + prior - Fit.Information / 2 };
        }
    }

    /// <summary>
    /// How far an earlier card's dose (0) or the strength of its marks (1) lies from the reading's own, in the spread
    /// of cards burned alike, were nothing known of cards; with its variance.
    /// </summary>
    public (double Distance, double Variance) CardDifference(int card, int which)
    {
        PosteriorStep step = Steps.MaxBy(each => each.LnWeight)!;
        double[] precision = [.. step.Precision];
        for (int k = _settings + _lines; k < precision.Length; k++) precision[k] = 1 / (WidestCard * WidestCard);
        if (Cholesky.Of(_gram, precision) is not { } root) return (0, double.PositiveInfinity);
        double[] contrast = new double[precision.Length];
        (contrast[NumberOfCard(card) + which], contrast[NumberOfCard(0) + which]) = (1, -1);
        double[] solved = root.Solve(contrast);
        double square = Math.Max(_square - Vectors.Dot(_gradient, root.Solve(_gradient)), 1e-6 * _square);
        return (Vectors.Dot(solved, _gradient), Vectors.Dot(solved, contrast) * square / Fit.DegreesOfFreedom);
    }

    private PosteriorStep? StepOf(double deviation, double top, double line)
    {
        double[] precision = [.. _precision];
        double lnPrior = 0;
        for (int k = _free.Length; k < _settings + _lines; k++)
        {
            double spread = k >= _settings ? line : k < _free.Length + DeviationTerms.TopCount ? top : deviation;
            precision[k] = 1 / (spread * spread);
            lnPrior += Math.Log(precision[k]);
        }

        if (Cholesky.Of(_gram, precision) is not { } root) return null;
        double[] mean = root.Solve(_gradient);
        double square = Math.Max(_square - Vectors.Dot(_gradient, mean), 1e-6 * _square + 1e-12);
        double evidence = (lnPrior - root.LnDeterminant - Fit.DegreesOfFreedom * Math.Log(square)) / 2;
        return new(root, mean, square, Fit.DegreesOfFreedom) { Deviation = deviation, Precision = precision, LnEvidence = evidence };
    }
}

/// <summary>The posterior at one pair of spreads: a normal of unknown scale.</summary>
/// <param name="Root">Root of its precision, for a chance of one.</param>
/// <param name="Mean">Its mean.</param>
/// <param name="Square">Sum of squares that is left.</param>
/// <param name="Freedom">Degrees of freedom of the chance.</param>
internal sealed record PosteriorStep(Cholesky Root, double[] Mean, double Square, double Freedom)
{
    /// <summary>Spread of the deviations, in shares of the strongest mark.</summary>
    public double Deviation { get; init; }

    /// <summary>What is known beforehand of each number, as precisions.</summary>
    public double[] Precision { get; init; } = [];

    /// <summary>ln of the evidence, up to a constant of the law.</summary>
    public double LnEvidence { get; init; }

    /// <summary>ln of its weight among all steps of all laws.</summary>
    public double LnWeight { get; init; }
}
