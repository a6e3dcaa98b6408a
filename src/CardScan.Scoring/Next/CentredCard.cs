using CardScan.Model;
using CardScan.Scoring.Next.Design;

namespace CardScan.Scoring.Next;

/// <summary>A next card that sharpens the limit at the setting in question.</summary>
internal static class CentredCard
{
    /// <summary>How far a card reaches that no model guides.</summary>
    private const double BlindSpeedReach = 1.5, BlindPowerReach = 1.4;

    public static NextRanges Plan(BurnedCards cards, Question question, NextCardOptions options)
    {
        CellSettings about = question.About;
        SettableSteps steps = SettableSteps.Of(options);
        DoseLimits limits = DoseLimits.Of(cards.Burned, about, cards.End, steps);
        if (cards.KnowledgeAbout(about, options) is not { } known) return Blind(question, limits, options);

        (double[] powers, double[] speeds) = GridDesign.Best(known, about, limits, options);
        ExpectedLearning learning = Expectation.Of(known, cards.Newest, powers, speeds, about.SpeedMmPerMin);
        Process process = cards.Newest.Plan.Process;
        bool isKnown = learning.NowPercent * learning.PowerPercent / 100 <= options.PowerStepPercent / 2;
        return new()
        {
            PowersPercent = powers.ToValueList(),
            SpeedsMmPerMin = speeds.ToValueList(),
            About = about,
            Notes =
            [
                NextCardMessages.Centred(question, OpenCells.Count(known, powers, speeds), powers.Length * speeds.Length, process),
                .. PassedOver.By(cards.Newest, about),
                isKnown
                    ? NextCardMessages.LearnsLittle(learning, process, options.PowerStepPercent)
                    : NextCardMessages.Learns(learning, process),
            ],
            Learning = learning,
        };
    }

    /// <summary>Spread evenly about the setting; what would get too much energy is left out.</summary>
    private static NextRanges Blind(Question question, DoseLimits limits, NextCardOptions options)
    {
        CellSettings about = question.About;
        double mostPower = about.PowerPercent * BlindPowerReach,
            slowest = Math.Max(about.SpeedMmPerMin / BlindSpeedReach, mostPower / limits.MostDose);
        return new()
        {
            PowersPercent = limits.Steps.SpreadPowers(about.PowerPercent / BlindPowerReach, mostPower, options.Columns).ToValueList(),
            SpeedsMmPerMin =
                limits.Steps.SpreadSpeeds(slowest, Math.Max(slowest, about.SpeedMmPerMin) * BlindSpeedReach, options.Rows).ToValueList(),
            About = about,
            Notes = [NextCardMessages.Blind(question)],
        };
    }
}
