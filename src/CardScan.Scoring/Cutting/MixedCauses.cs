using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics;

namespace CardScan.Scoring.Cutting;

/// <summary>Tells apart why sides are held: too little energy, too much of it, or neither.</summary>
/// <remarks>
/// A mixture, fitted by expectation and maximisation: a side is through where it had enough (a logistic step), did not close
/// again (another, where the card has one), and was not told wrongly or held by itself (a small rate); a few cells are bad
/// as a whole, and their sides say nothing. Each side keeps the share of it that tells of either end as its vote. Only cards
/// on which the order of doses is contradicted come here. docs/method/cut-scoring.md, "Why a side is held".
/// </remarks>
internal sealed class MixedCauses
{
    /// <summary>
    /// Shares of sides and of cells that go wrong by themselves, before a card tells, and how many sides or cells
    /// that knowledge weighs.
    /// </summary>
    private const double UsualStraySides = 0.005, StrayWeight = 200, UsualBadCells = 0.01, BadWeight = 100;

    /// <summary>A vote to start with, of a side that contradicts the order of doses.</summary>
    private const double StartingVote = 0.1;

    /// <summary>
    /// Speed's exponent over power's, and its deviation: with two ends, cells that were held when slow would else be taken for a
    /// fast end that goes the wrong way.
    /// </summary>
    private const double UsualRatio = 0.9, RatioDeviation = 0.35;

    /// <summary>ln likelihood that a second end has to gain where no cell with the most energy is held: odds of 20 to 1.</summary>
    private const double LeastGain = 3;

    private const int MostRounds = 20, StepsARound = 2, FirstSteps = 10;
    private const double LikelihoodTolerance = 1e-2;

    private readonly CutCard _card;
    private readonly CutTerms _terms;
    private readonly SlowTerms? _slowTerms;
    private readonly SlowSplit? _split;
    private readonly double[][] _slowRows;
    private readonly (double[] X, double[] Y)[] _rows;
    private readonly Vote[][] _votes;
    private readonly double[]? _fast;
    private readonly double[] _slow;
    private double _strayHeld = UsualStraySides, _strayOpen = UsualStraySides, _bad = UsualBadCells;

    private MixedCauses(CutCard card, CutTerms terms, SlowSplit? split)
    {
        (_card, _terms, _split) = (card, terms, split);
        SlowTerms? slowTerms = _slowTerms = split is null ? null : new(card);
        _rows = [.. card.Cells.Select(cell =>
            (terms.RowAt(cell.Point, CutDirection.AlongX, cell.Card), terms.RowAt(cell.Point, CutDirection.AlongY, cell.Card)))];
        _slowRows = [.. card.Cells.Select(cell => slowTerms?.RowAt(cell.Point) ?? [])];
        _votes = [.. card.Cells.Select(cell => FirstVotes(cell))];
        _fast = LogisticFit.Climb(FastData(), new double[terms.Count], FirstSteps);
        _slow = slowTerms is null ? [] : LogisticFit.Climb(slowTerms.WithUsual(SlowData()), slowTerms.Start(card), FirstSteps);
        double before = double.NegativeInfinity;
        for (int round = 0; round < MostRounds; round++)
        {
            if (slowTerms is not null) _slow = LogisticFit.Climb(slowTerms.WithUsual(SlowData()), _slow, StepsARound);
            Expect();
            if (Math.Abs(LogLikelihood - before) < LikelihoodTolerance) break;
            before = LogLikelihood;
            _fast = LogisticFit.Climb(FastData(), _fast, StepsARound);
        }
    }

    private readonly record struct Vote(double Fast, double Slow);

    private double LogLikelihood { get; set; }

    /// <summary>The card with the votes of its sides; the same where nothing contradicts the order of doses.</summary>
    public static CutCard ToldApartOn(CutCard card)
    {
        if (!card.IsMixed || !CutOrder.IsContradictedOn(card)) return card;
        CutTerms terms = CutTerms.Of(card);
        if (!terms.HasSettings) return card;
        MixedCauses one = new(card, terms, split: null);
        if (SlowSplit.On(card) is not { } split) return one.Marked();
        MixedCauses two = new(card, terms, split);
        if (!two._slowTerms!.IsPlausible(two._slow)) return one.Marked();
        double gain = two.LogLikelihood - one.LogLikelihood;
        bool isTopHeld = card.Cells.Any(cell => CutOrder.IsHeldAgainstOrder(cell, card) && CutOrder.IsAtTop(cell, card));
        return isTopHeld || gain > LeastGain ? two.Marked() with { ClosesAgain = true, IsEndDoubtful = gain <= LeastGain } : one.Marked();
    }

    private CutCard Marked() => _card with
    {
        Cells = _card.Cells.Select((cell, c) => cell with
        {
            Sides = cell.Sides.Select((side, i) => side with { FastVote = _votes[c][i].Fast, SlowVote = _votes[c][i].Slow }).ToValueList()
        }).ToValueList(),
    };

    private Vote[] FirstVotes(CutCell cell)
    {
        bool isBeyond = _split?.IsBeyond(cell) ?? false,
            isDoubted = isBeyond || (_split is null && CutOrder.IsHeldAgainstOrder(cell, _card)),
            isThroughAgainst = _split is null && CutOrder.IsThroughAgainstOrder(cell, _card);
        return [.. cell.Sides.Select(side =>
            side.IsBridged ? default
            : side.IsThrough ? new Vote(isThroughAgainst ? StartingVote : 1, 1)
            : isDoubted ? new Vote(isBeyond ? 0 : StartingVote, 1) : new Vote(1, 0))];
    }

    private LogisticData FastData()
    {
        List<double[]> design = [];
        List<double> open = [], all = [];
        foreach ((int c, CutCell cell) in _card.Cells.Index())
        {
            (double Open, double All) x = default, y = default;
            foreach ((int i, CutSide side) in cell.Sides.Index())
            {
                double weight = side.Weight * _votes[c][i].Fast, through = side.IsThrough ? weight : 0;
                if (side.Direction == CutDirection.AlongX) x = (x.Open + through, x.All + weight);
                else y = (y.Open + through, y.All + weight);
            }

            Add(_rows[c].X, x);
            Add(_rows[c].Y, y);
        }

        LogisticData data = SteepnessPrior.AddTo(new([.. design], [.. open], [.. all]), _terms);
        if (_split is null || _terms.Power < 0 || _terms.Speed < 0) return data;
        double exponent = _fast is null ? SteepnessPrior.Exponent : Math.Max(SteepnessPrior.Exponent, _fast[_terms.Power]);
        return NormalPrior.AddDifference(data, _terms.Speed, _terms.Power, UsualRatio, RatioDeviation * exponent);

        void Add(double[] row, (double Open, double All) sides)
        {
            if (sides.All == 0) return;
            design.Add(row);
            open.Add(sides.Open);
            all.Add(sides.All);
        }
    }

    private LogisticData SlowData()
    {
        double[] all = [.. _card.Cells.Select((cell, c) => cell.Sides.Select((side, i) => side.Weight * _votes[c][i].Slow).Sum())];
        double[] open = [.. _card.Cells.Select((cell, c) =>
            cell.Sides.Select((side, i) => side.IsThrough ? side.Weight * _votes[c][i].Slow : 0).Sum())];
        return new(_slowRows, open, all);
    }

    /// <summary>What each side tells of, given the present fit; the rates of what goes wrong by itself; and the likelihood.</summary>
    private void Expect()
    {
        double logLikelihood = 0, bad = 0, strayHeld = 0, enough = 0, strayOpen = 0, lacking = 0;
        foreach ((int c, CutCell cell) in _card.Cells.Index())
        {
            double x = SpecialFunctions.Logistic(Vectors.Dot(_rows[c].X, _fast!)),
                y = SpecialFunctions.Logistic(Vectors.Dot(_rows[c].Y, _fast!));
            double kept = _slowTerms is null ? 1 : SpecialFunctions.Logistic(Vectors.Dot(_slowRows[c], _slow));
            double good = 1, chance = 1;
            foreach (CutSide side in cell.Sides)
            {
                if (side.IsBridged) continue;
                good *= Likelihood(side, (side.Direction == CutDirection.AlongX ? x : y) * kept);
                chance *= 0.5;
            }

            double whole = _bad * chance + (1 - _bad) * good, isBad = _bad * chance / whole;
            logLikelihood += Math.Log(whole);
            bad += isBad;
            foreach ((int i, CutSide side) in cell.Sides.Index())
            {
                if (side.IsBridged) continue;
                double fast = side.Direction == CutDirection.AlongX ? x : y, law = 1 - _strayHeld - _strayOpen,
                    likelihood = Likelihood(side, fast * kept);
                if (side.IsThrough)
                {
                    double told = law * fast * kept / likelihood * (1 - isBad);
                    _votes[c][i] = new(told, told);
                    strayOpen += (1 - isBad) * _strayOpen * (1 - fast * kept) / likelihood;
                }
                else
                {
                    _votes[c][i] =
                        new((1 - isBad) * law * (1 - fast) * kept / likelihood, (1 - isBad) * law * fast * (1 - kept) / likelihood);
                    strayHeld += (1 - isBad) * _strayHeld * fast * kept / likelihood;
                }

                enough += fast * kept;
                lacking += 1 - fast * kept;
            }
        }

        LogLikelihood = logLikelihood;
        _bad = (bad + UsualBadCells * BadWeight) / (_card.Cells.Count + BadWeight);
        _strayHeld = (strayHeld + UsualStraySides * StrayWeight) / (enough + StrayWeight);
        _strayOpen = (strayOpen + UsualStraySides * StrayWeight) / (lacking + StrayWeight);
    }

    private double Likelihood(CutSide side, double through)
    {
        double open = _strayOpen + (1 - _strayHeld - _strayOpen) * through;
        return side.IsThrough ? open : 1 - open;
    }
}
