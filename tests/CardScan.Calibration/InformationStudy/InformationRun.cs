using CardScan.Model;
using CardScan.Scoring;
using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Calibration;

/// <summary>Plans next cards and asks the law itself what they would tell.</summary>
internal static class InformationRun
{
    private static readonly GridSize[] Sizes = [new(4, 4), new(6, 6)];

    /// <summary>A limit known no better than this is as good as unknown.</summary>
    private const double WorstPercent = 100;

    public static IEnumerable<FigureTable> Tables(StudyArguments arguments)
    {
        SizedLaw[] laws = [.. SizedLaw.All.Where(law => Sizes.Contains(law.Size)
            && arguments.Only.Split('|').Any(law.Name.Contains) && !law.Law.HasGaps)];
        Progress progress = new(laws.Length);
        List<(SizedLaw, InformationResult[])> results = [];
        foreach (SizedLaw law in laws)
        {
            progress.Begins(law.Name);
            InformationResult[] cards = new InformationResult[arguments.Cards];
            Parallel.For(0, arguments.Cards, i => cards[i] = Run(law, arguments.Seed, i));
            results.Add((law, cards));
        }

        progress.Ends(arguments.Cards);
        return InformationTables.Of(results);
    }

    private static InformationResult Run(SizedLaw law, int seed, int index)
    {
        Chance chance = Chance.Of($"{seed}/next/{law.Name}/{index}");
        TrueCard first = law.Law.Draw(law.Size, chance);
        Reading reading = first.Read(chance);
        Outcome<NextRanges> planned =
            NextCard.Plan(reading, new() { Rows = first.Grid.SpeedsMmPerMin.Length, Columns = first.Grid.PowersPercent.Length });
        if (planned.IsRefused) return new() { Code = planned.Refusal!.Code };
        NextRanges next = planned.Value;
        if (next.Learning is null) return new() { Code = next.Notes[0].Code, HoldsTheAnswer = ShiftJudge.HoldsTheAnswer(first, next) };

        double speed = next.Learning.SpeedMmPerMin;
        if (TrueInformation.At(first, speed) is not { } information) return new() { Code = next.Notes[0].Code };
        Matrix<double> burned = information.Of(first.Grid.PowersPercent, first.Grid.SpeedsMmPerMin), now = TrueInformation.Before + burned;
        double width = TrueInformation.HalfWidthPercent(now);
        if (!(width < WorstPercent)) return new() { Code = next.Notes[0].Code };
        return new()
        {
            Code = next.Notes[0].Code,
            Now = width,
            Again = TrueInformation.HalfWidthPercent(now + burned),
            Planned = TrueInformation.HalfWidthPercent(now + information.Of(next.PowersPercent, next.SpeedsMmPerMin)),
            Best = BestGrid.HalfWidthPercent(first, information, speed, chance),
        };
    }
}
