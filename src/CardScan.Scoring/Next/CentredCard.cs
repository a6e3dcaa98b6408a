using CardScan.Model;
using CardScan.Scoring.Cutting;

namespace CardScan.Scoring.Next;

/// <summary>A next card about the setting in question.</summary>
internal static class CentredCard
{
    /// <summary>How far a card reaches that no model guides.</summary>
    private const double BlindSpeedReach = 1.5, BlindPowerReach = 1.4;

    /// <summary>Beyond the card's highest dose, a card about a setting near its edge may go this much further.</summary>
    public const double DoseReserve = 1.3;

    public static NextRanges Plan(Reading scored, BurnedRange burned, Question question, NextCardOptions options)
    {
        CellSettings about = question.About;
        SettableSteps steps = new(options.PowerStepPercent, options.SlowestMmPerMin, options.FastestMmPerMin);
        if (KnowledgeOf(scored, about, options) is not { } card)
        {
            return new()
            {
                PowersPercent = steps.SpreadPowers(about.PowerPercent / BlindPowerReach, about.PowerPercent * BlindPowerReach, options.Columns).ToValueList(),
                SpeedsMmPerMin = steps.SpreadSpeeds(about.SpeedMmPerMin / BlindSpeedReach, about.SpeedMmPerMin * BlindSpeedReach, options.Rows).ToValueList(),
                About = about,
                Notes = [NextWords.Blind(question)],
            };
        }

        double burnedDose = burned.Strongest.Settings.PowerPercent / burned.Strongest.Settings.SpeedMmPerMin;
        double mostDose = Math.Max(burnedDose, DoseReserve * about.PowerPercent / about.SpeedMmPerMin);
        (double[] powers, double[] speeds) = GridSearch.Best(card, about, steps, options, mostDose);
        ExpectedLearning learning = LearningOf(card, powers, speeds, about.SpeedMmPerMin, scored);
        bool isKnown = learning.NowPercent * learning.PowerPercent / 100 <= options.PowerStepPercent / 2;
        return new()
        {
            PowersPercent = powers.ToValueList(),
            SpeedsMmPerMin = speeds.ToValueList(),
            About = about,
            Notes =
            [
                NextWords.Centred(question, card.OpenCells(powers, speeds), powers.Length * speeds.Length),
                .. PassedOver.By(scored, about),
                isKnown ? NextWords.LearnsLittle(learning, scored.Plan.Process, options.PowerStepPercent) : NextWords.Learns(learning, scored.Plan.Process),
            ],
            Learning = learning,
        };
    }

    private static CardKnowledge? KnowledgeOf(Reading scored, CellSettings about, NextCardOptions options)
    {
        if (scored.Plan.Process == Process.Engrave) return MarkKnowledge.Of(scored, about, options.Scoring.FullMarkShare);
        CutCard card = CutCard.Of(scored);
        return CutModel.Fit(card) is { } model ? CutKnowledge.Of(model, card, about) : null;
    }

    /// <summary>
    /// The information tells by how much an interval shrinks. How wide it is now the scoring knows better, where it drew
    /// a boundary: with the law that it chose and the degrees of freedom that are left. The boundary has points at burned
    /// speeds; the nearest one serves.
    /// </summary>
    private static ExpectedLearning LearningOf(CardKnowledge card, double[] powers, double[] speeds, double speed, Reading scored)
    {
        double lnSpeed = Math.Log(speed);
        double power = Math.Exp(card.LnLimit(lnSpeed)), now = Information.HalfWidthPercent(card, card.Known, lnSpeed), scale = 1;
        if (scored.Boundary?.MinBy(point => Math.Abs(Math.Log(point.SpeedMmPerMin / speed))) is { } boundary)
        {
            double lnNearest = Math.Log(boundary.SpeedMmPerMin);
            power *= boundary.PowerPercent / Math.Exp(card.LnLimit(lnNearest));
            scale = 50 * (boundary.High - boundary.Low) / boundary.PowerPercent / Information.HalfWidthPercent(card, card.Known, lnNearest);
        }

        return new(
            speed, power, now * scale,
            scale * Information.HalfWidthPercent(card, Information.OfGrid(card, powers, speeds, withKnown: false), lnSpeed),
            scale * Information.HalfWidthPercent(card, Information.OfGrid(card, powers, speeds, withKnown: true), lnSpeed));
    }
}
