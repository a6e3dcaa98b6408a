using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Cutting;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Next;

/// <summary>What a maker reads about the next card.</summary>
internal static class NextCardMessages
{
    /// <summary>An interval that shrinks less than this, as a share of itself, is no reason to burn a card.</summary>
    private const double LittleGain = 0.2;

    /// <summary>Half widths beyond this tell nothing, percent.</summary>
    private const int WidestTold = 100;

    public static Refusal NoBasis(string why) => Refusal.OfInput(Codes.NextNoBasis, ("why", why));

    public static Refusal NoBasis(Advice advice) => Refusal.OfInput(Codes.NextNoBasis,
        ("advice", new Phrase(advice.Code, advice.Values?.Select(value => (value.Key, value.Value)) ?? [])));

    public static Advice Centred(Question question, int open, int cells, Process process) => new(Codes.NextCentred,
        [.. About(question), ("open", open), ("cells", cells), Of(process)]);

    /// <summary>Why a card is not about cells that came through faster.</summary>
    public static Advice PassedOver(PassedOver likeliest, int cells) => new(Codes.NextPassedOver,
        ("cells", cells), ("setting", likeliest.Cell.Settings.ToFigure()), ("chance", CutMessages.Chance(likeliest.Through)),
        ("held", likeliest.HeldNeighbours), ("beside", likeliest.Neighbours));

    public static Advice Blind(Question question) => new(Codes.NextBlind, About(question));

    public static Advice Learns(ExpectedLearning learning, Process process) => new(Codes.NextLearns,
        [.. Known(learning, process), ("again", Width(learning.AgainPercent)),
            ("little", Is(learning.TogetherPercent > (1 - LittleGain) * learning.NowPercent))]);

    public static Advice LearnsLittle(ExpectedLearning learning, Process process, double stepPercent) =>
        new(Codes.NextLearnsLittle, [.. Known(learning, process), ("step", Power(stepPercent))]);

    public static Advice Less(BurnedRange burned, double fastest, double leastPower, bool isBeyondPeak) => new(Codes.NextLessDose,
        ("peak", Is(isBeyondPeak)), ("weakest", burned.Weakest.Settings.ToFigure()),
        ("speed", Speed(fastest)), ("power", Power(leastPower)));

    public static Advice More(double gain, double slowest, double mostPower) =>
        new(Codes.NextMoreDose, ("gain", In(Unit.Factor, gain)), ("power", Power(mostPower)), ("speed", Speed(slowest)));

    public static Advice MorePasses(CellSettings about) => new(Codes.NextMorePasses, ("passes", about.Passes));

    private static IEnumerable<(string, Figure)> About(Question question) =>
        [("about", new Phrase("name.next-about", ("kind", question.Kind))), ("setting", question.About.ToFigure())];

    private static IEnumerable<(string, Figure)> Known(ExpectedLearning learning, Process process) =>
    [
        ("limit", new Phrase("name.next-limit",
            Of(process), ("speed", Speed(learning.SpeedMmPerMin)), ("power", Power(learning.PowerPercent)))),
        ("now", Width(learning.NowPercent)),
        ("together", Width(learning.TogetherPercent)),
    ];

    private static (string, Figure) Of(Process process) => ("process", EnumName.Of(process));

    /// <summary>What nothing bounds is infinite, which no file holds.</summary>
    private static Figure Width(double percent) =>
        percent <= WidestTold ? In(Unit.Percent, percent) : new Phrase("figure.share-over", ("limit", WidestTold));
}
