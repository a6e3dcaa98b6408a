using CardScan.Model;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace CardScan.Scoring.Engraving;

/// <summary>The fallback without a law: the card's marks held to an order alone.</summary>
/// <remarks>
/// Intervals come from a parametric bootstrap: marks are drawn about the levels with the deviation that the card shows,
/// misfit included, and put in order again. So a level that was pooled from cells that disagree is as uncertain as they are.
/// Pooling hides a step inside a block, which no draw about the pooled level shows: an interval never excludes what the
/// cell's own mark says.
/// </remarks>
internal sealed class OrderFit
{
    /// <summary>Least weakening past the peak that is taken for more than chance, as a share of the peak.</summary>
    private const double LeastWeakening = 0.1;

    private const double WeakeningDeviations = 3;

    /// <summary>
    /// Deviation from the order beyond which there is none, as a share of the strongest mark: twice the chance of coarse wood.
    /// </summary>
    private const double LargestDeviation = 0.12;

    /// <summary>Times the chance between neighbours: a deviation beyond it belongs to a block of cells, where it matters.</summary>
    private const double BlockDeviations = 3;

    private const double LeastBlock = 0.04;

    /// <summary>A mark past the peak that is weaker than this share of it is no mark: something lies on the cells.</summary>
    public const double LeastLeft = 0.15;

    /// <summary>Chance that no card goes below, as a share of the strongest mark.</summary>
    private const double LeastChance = 0.01;

    /// <summary>Deviations to each side of a cell's own mark, 95 %.</summary>
    private const double OwnDeviations = 1.96;

    private const int Draws = 199;
    private const double DrawTolerance = 1e-3;

    private readonly OrderedLevels _order;
    private readonly double[] _strengths;

    private OrderFit(EngravedCard card, OrderedLevels order, bool isPeaked)
    {
        (Card, _order, IsPeaked) = (card, order, isPeaked);
        _strengths = [.. card.Marked.Select(cell => cell.Strength)];
        Levels = order(_strengths, 1e-12);
        Strongest = Levels.Max();
        Deviation = DeviationFrom(Levels);
    }

    public EngravedCard Card { get; }

    /// <summary>Level of each used cell, in mark strength.</summary>
    public double[] Levels { get; }

    /// <summary>Highest level.</summary>
    public double Strongest { get; }

    /// <summary>RMS deviation of the cells from their levels, or their stated errors, whichever is larger.</summary>
    public double Deviation { get; }

    /// <summary>True where the marks rise and then weaken: a coat that burns off, wood that turns to ash.</summary>
    public bool IsPeaked { get; }

    /// <summary>Energy of the strongest mark, J/mm².</summary>
    public double PeakDose => Math.Exp(Card.Marked[Array.IndexOf(Levels, Strongest)].Cell.LnDose);

    /// <summary>
    /// False where cells break the order by more than chance: dirt, a shadow, or another card. Then no level means anything.
    /// </summary>
    public bool HasOrder
    {
        get
        {
            if (IsPeaked && Levels[StrongestDose()] < LeastLeft * Strongest && !GradualFall.IsSeen(Card, Strongest, PeakDose)) return false;
            if (Deviation > LargestDeviation * Strongest) return false;
            return ChanceBetweenNeighbours() is not { } chance || Deviation <= Math.Max(BlockDeviations * chance, LeastBlock * Strongest);
        }
    }

    /// <summary>Cells that are weaker than the order of the others lets them be, the clearest first.</summary>
    public IReadOnlyList<MarkedCell> AgainstOrder
    {
        get
        {
            double limit = Math.Max(2 * (ChanceBetweenNeighbours() ?? 0), LeastWeakening * Strongest);
            double peak = IsPeaked ? PeakDose : double.PositiveInfinity;
            return [.. Card.Marked.Select((cell, i) => (Cell: cell, Short: ShortOf(cell, i)))
                .Where(pair => pair.Short > limit).OrderByDescending(pair => pair.Short).Select(pair => pair.Cell)];

            // Past a peak the level follows the faint marks down; there the strongest mark is what they fall short of.
            double ShortOf(MarkedCell cell, int i) => (Math.Exp(cell.Cell.LnDose) > peak ? Strongest : Levels[i]) - cell.Strength;
        }
    }

    /// <summary>The order that the card's marks keep best: rising, or with a peak where they clearly weaken past it.</summary>
    public static OrderFit Of(EngravedCard card)
    {
        OrderFit peaked = new(card, MarkOrder.RisingThenFalling(card), isPeaked: true);
        return peaked.Weakens() ? peaked : Rising(card);
    }

    /// <summary>The same without a peak.</summary>
    public static OrderFit Rising(EngravedCard card) => new(card, MarkOrder.Rising(card), isPeaked: false);

    /// <summary>One estimate a used cell, in their order.</summary>
    public MarkEstimate[] Estimates(double fullMarkShare)
    {
        double[][] draws = DrawnShares();
        double own = OwnDeviations * Math.Max(Deviation, LeastChance * Strongest);
        return [.. Card.Marked.Select((cell, i) =>
        {
            double share = OfStrongest(Levels[i]);
            double[] drawn = draws[i];
            Array.Sort(drawn);
            // Half by the pooled level, half by the cell's own mark: which of the two speaks for the setting the order does not tell.
            double probability =
                ((drawn.Count(value => value >= fullMarkShare) + 0.5) / (Draws + 1) + OwnProbability(cell.Strength, fullMarkShare)) / 2;
            (double low, double high) = (OfStrongest(cell.Strength - own), OfStrongest(cell.Strength + own));
            return new MarkEstimate(cell, Levels[i], share,
                Math.Min(Math.Min(share, low), drawn[Draws * 25 / 1000]),
                Math.Max(Math.Max(share, high), drawn[Draws * 975 / 1000]), probability);
        })];
    }

    private double OwnProbability(double strength, double fullMarkShare) =>
        Normal.CDF(0, Math.Max(Deviation, LeastChance * Strongest), strength - fullMarkShare * Strongest);

    private double OfStrongest(double strength) => Strongest > 0 ? Math.Clamp(strength / Strongest, 0, 1) : 0;

    /// <summary>As it stands in the reading.</summary>
    public FittedModel Report() => new()
    {
        Name = IsPeaked ? "rise-then-fall" : "isotonic",
        Diagnostics = new([new("cellsUsed", Card.Marked.Count), new("residualDeviation", Math.Round(Deviation, 6))]),
    };

    /// <summary>Shares of the strongest level in each draw, by cell. The same card gives the same draws.</summary>
    private double[][] DrawnShares()
    {
        int count = Card.Marked.Count;
        MersenneTwister chance = new(20_011, threadSafe: false);
        double deviation = Math.Max(Deviation, LeastChance * Strongest);
        double[] drawn = new double[count];
        double[][] shares = [.. Enumerable.Range(0, count).Select(_ => new double[Draws])];
        for (int draw = 0; draw < Draws; draw++)
        {
            Normal.Samples(chance, drawn, 0, deviation);
            for (int i = 0; i < count; i++) drawn[i] += Levels[i];
            double[] levels = _order(drawn, DrawTolerance * deviation);
            double strongest = Math.Max(levels.Max(), 1e-9);
            for (int i = 0; i < count; i++) shares[i][draw] = Math.Clamp(levels[i] / strongest, 0, 1);
        }

        return shares;
    }

    private bool Weakens()
    {
        double end = Levels[StrongestDose()];
        int atEnd = Levels.Count(level => Math.Abs(level - end) < 1e-9);
        double weakening = Strongest - end;
        return weakening >= LeastWeakening * Strongest && weakening >= WeakeningDeviations * Deviation * Math.Sqrt(1 + 1.0 / atEnd);
    }

    private int StrongestDose() => Enumerable.Range(0, Levels.Length).MaxBy(i => Card.Marked[i].Cell.LnDose);

    private double? ChanceBetweenNeighbours() =>
        SpeedPowerGrid.Of(Card)?.ChanceBetweenNeighbours(_strengths) is { } chance ? Math.Max(chance, Stated) : null;

    private double Stated => Math.Sqrt(Card.Marked.Average(cell => cell.StandardError * cell.StandardError));

    private double DeviationFrom(double[] levels)
    {
        int blocks = levels.Select(level => Math.Round(level, 9)).Distinct().Count();
        double sum = _strengths.Zip(levels, (strength, level) => (strength - level) * (strength - level)).Sum();
        return Math.Max(Math.Sqrt(sum / Math.Max(1, levels.Length - blocks)), Stated);
    }
}
