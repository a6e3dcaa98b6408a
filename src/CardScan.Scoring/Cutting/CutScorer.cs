using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>Scores a cut card.</summary>
internal static class CutScorer
{
    /// <summary>Name of the figure by which cuts are judged.</summary>
    public const string ProbabilityThrough = "probabilityThrough";

    /// <summary>
    /// A setting that has energy enough, and not too much, less often than this, or at the lower end of its interval less than
    /// every other time, is none to give. Chosen here.
    /// </summary>
    private const double LeastWorthNaming = 0.8, LeastToCountOn = 0.5;

    /// <summary>
    /// Chosen here: half of it calls no clean card of fewer than about 60 cells sure, twice of it lets cards with a held cell in
    /// twenty through.
    /// </summary>
    private const double MostRiskOverDemanded = 2;

    /// <summary>Settings with energy enough that are asked for one which is sure in all: each costs a search.</summary>
    private const int MostTried = 12;

    public static Verdict Score(Reading reading, ValueList<Reading> earlier, ScoringOptions options)
    {
        JoinedCuts joined = JoinedCuts.Of(reading, earlier);
        CutCard card = joined.Card;
        if (card.Cells.Count == 0) return new() { Advice = [CutMessages.NoSides(reading)] };

        List<Advice> advice = [];
        if (joined.Disagreeing.Count > 0) advice.Add(CutMessages.CardsDisagree(joined.Disagreeing));
        int unseen = reading.Cells.Count - card.Cells.Count(cell => cell.Card == 0);
        if (unseen > 0) advice.Add(CutMessages.UnseenCells(unseen));
        bool isOpen = card.Cells.All(cell => !cell.IsSeenHeld);
        if (isOpen && CutMessages.SidesMissing(card, reading) is { } missing) return new() { Advice = [.. advice, missing] };
        if (!isOpen && !card.IsMixed && !card.HasStrongestOf(reading)) return new() { Advice = [CutMessages.StrongestUnseen(unseen)] };
        if (!isOpen && !card.IsMixed) return new() { Advice = [.. advice, CutMessages.NoneThrough(card)] };
        if (isOpen) advice.Add(CutMessages.AllThrough(card));
        if (CutLaw.Of(isOpen ? UnseenLimit.AddedTo(card) : card) is not { } law)
            return new() { Advice = [.. advice, CutMessages.NoModel()] };
        if (law.Fast.IsReversed) return new() { Advice = [.. advice, CutMessages.Reversed()] };

        ValueList<CutCell> spoiled = card.Cells.Where(cell => cell.FitsNothing).ToValueList();
        advice.AddRange(CutMessages.Causes(law, card, spoiled, reading.Plan));
        List<Recommendation> recommendations = [];
        CutStability? stability = Recommend(law, joined, options, recommendations, advice);
        return new()
        {
            Recommendations = recommendations.ToValueList(),
            Joined = joined.Told(law.Fast),
            Advice = advice.ToValueList(),
            Outliers = spoiled.Where(cell => cell.Card == 0).Select(cell => cell.Address).ToValueList(),
            Boundary = isOpen ? null : CutReport.Boundary(law.Fast, card),
            Model = isOpen ? null : CutReport.Of(law, card, spoiled.Count, stability),
        };
    }

    /// <summary>Adds the recommendations, or the advice why there are none.</summary>
    /// <returns>How far the sure cut hangs on single cells; null where there is none.</returns>
    private static CutStability? Recommend(
        CutLaw law, JoinedCuts joined, ScoringOptions options, List<Recommendation> recommendations, List<Advice> advice)
    {
        CutCard card = joined.Card;
        double confidence = options.CutConfidence;
        CutEstimate[] estimates = [.. card.Cells.Select(cell => new CutEstimate(law, cell))];
        // An interval costs a search, so cells are asked in the order in which they are wanted.
        CutEstimate[] bySpeed = [.. estimates.OrderBy(estimate => estimate.Cell.SecondsPerMetre).ThenBy(estimate => estimate.PowerPercent)];
        IEnumerable<CutEstimate> through = bySpeed.Where(estimate => estimate.Cell.IsSeenThrough);
        IEnumerable<CutEstimate> enough = through.Where(estimate => HasEnergyEnough(estimate, confidence));
        if (!enough.Any()) enough = through.Where(estimate => IsEnoughOnAverage(estimate, confidence));
        if (law.Slow is not null && !enough.Any()) enough = Likeliest(through);
        enough = enough.Where(IsWorthNaming);
        // Where some cells were held anyway, more energy may help: the fastest that is sure with all of it, or else by energy alone.
        if ((enough.Take(MostTried).FirstOrDefault(estimate => IsSure(estimate.Through, confidence))
            ?? enough.FirstOrDefault()) is not { } fastest)
        {
            advice.Add(WithoutSureCut(law, estimates, bySpeed, confidence));
            return null;
        }

        CutEstimate? faster = bySpeed.FirstOrDefault(estimate =>
            estimate.Cell.IsSeenThrough && estimate.Cell.SecondsPerMetre < fastest.Cell.SecondsPerMetre);
        CutStability stability = CutStability.Of(law.Fast, card, fastest, confidence);
        Reason[] why = [.. CutMessages.SureCut(fastest, faster, law, stability, confidence)];
        recommendations.Add(RecommendationOf(Goal.SureCut, fastest, joined, confidence, [.. why]) with
        {
            Unburned = CutBetween.FasterThan(fastest, law, card, confidence),
        });
        CutEstimate cleanest = CleanestOf(estimates, fastest, confidence);
        Reason[] whyClean = [.. CutMessages.CleanCut(cleanest, law, confidence)];
        recommendations.Add(RecommendationOf(Goal.CleanCut, cleanest, joined, confidence, [.. whyClean]));
        return stability;
    }

    /// <summary>
    /// The least char, or else the least energy, among the cuts that are as good as the fastest: one that is only likely is no
    /// match for a sure one.
    /// </summary>
    private static CutEstimate CleanestOf(CutEstimate[] estimates, CutEstimate fastest, double confidence)
    {
        bool isSure = IsSure(fastest.Through, confidence);
        return estimates.Where(estimate => estimate.Cell.HaloMm is not null).OrderBy(estimate => estimate.Cell.HaloMm)
            .Concat(estimates.OrderBy(estimate => estimate.Cell.LnEnergy))
            .First(estimate => estimate == fastest || (estimate.Cell.IsSeenThrough && IsEnough(estimate) && IsAsSure(estimate)));

        bool IsAsSure(CutEstimate estimate) => !isSure || IsSure(estimate.Through, confidence);

        bool IsEnough(CutEstimate estimate) => fastest.Low >= confidence
            ? HasEnergyEnough(estimate, confidence)
            : fastest.Energy.Value >= confidence && IsEnoughOnAverage(estimate, confidence);
    }

    /// <summary>Between two ends that leave no cell sure, the likeliest: slower and faster are both worse.</summary>
    private static IEnumerable<CutEstimate> Likeliest(IEnumerable<CutEstimate> through) =>
        through.Where(estimate => estimate.Probability >= LeastWorthNaming).OrderByDescending(estimate => estimate.Energy.Value).Take(1);

    private static bool IsWorthNaming(CutEstimate estimate) => estimate.Energy is { Value: >= LeastWorthNaming, Low: >= LeastToCountOn };

    private static Advice WithoutSureCut(CutLaw law, CutEstimate[] estimates, CutEstimate[] bySpeed, double confidence)
    {
        if (bySpeed.FirstOrDefault(estimate => !estimate.Cell.IsSeenHeld && HasEnergyEnough(estimate, confidence)) is { } unjudged)
            return CutMessages.SureButUnjudged(unjudged);
        CutEstimate best = estimates.Where(estimate => !estimate.Cell.IsSeenHeld)
            .DefaultIfEmpty(estimates[0]).MaxBy(estimate => estimate.Probability)!;
        return law.Slow is null
            ? CutMessages.NoSureCut(best, SpeedReaching(law.Fast, best.Cell, confidence), confidence)
            : CutMessages.NoCutBetweenEnds(best);
    }

    /// <summary>By energy through with the demanded probability at the lower end of its interval.</summary>
    private static bool HasEnergyEnough(CutEstimate estimate, double confidence) =>
        estimate.Probability >= confidence && estimate.Low >= confidence;

    /// <summary>The same averaged over what is not known: where no cell is sure at the lower end.</summary>
    private static bool IsEnoughOnAverage(CutEstimate estimate, double confidence) =>
        estimate.Probability >= confidence && estimate.Energy.Value >= confidence;

    /// <summary>
    /// True where a cut comes free as often as is demanded, and, at the lower end of its interval, fails at most twice as often.
    /// </summary>
    public static bool IsSure(Estimate through, double confidence) =>
        through.Value >= confidence && through.Low >= 1 - MostRiskOverDemanded * (1 - confidence);

    /// <summary>
    /// What is stated of a cut: how often it comes free where that is sure; else only what can be counted on, the lower end of
    /// its interval.
    /// </summary>
    public static double StatedOf(Estimate through, double confidence) =>
        Rounded(IsSure(through, confidence) ? through.Value : through.Low);

    /// <summary>
    /// The speed at a cell's power at which it would be through with some probability by best estimate; null where that is far off.
    /// </summary>
    public static double? SpeedReaching(CutModel model, CutCell cell, double probability)
    {
        const double FarthestLnSpeed = 1.1;   // a third of the speed
        double low = cell.Point.LnSpeed - FarthestLnSpeed, high = cell.Point.LnSpeed;
        if (!model.IsMonotone || !(At(low) >= probability) || At(high) >= probability) return null;
        for (int round = 0; round < 30; round++)
        {
            double middle = (low + high) / 2;
            if (At(middle) >= probability) low = middle;
            else high = middle;
        }

        return Math.Exp(low);

        double At(double lnSpeed) => model.Through(cell.Point with { LnSpeed = lnSpeed });
    }

    /// <summary>A probability for the files; no fitted model makes anything certain.</summary>
    public static double Rounded(double probability) => Math.Clamp(Math.Round(probability, 4), 0.0001, 0.9999);

    /// <summary>A probability in the files.</summary>
    public static Interval IntervalOf(Estimate through) =>
        new(ProbabilityThrough, Rounded(through.Value), Rounded(through.Low), Rounded(through.High));

    /// <summary>The setting is chosen by its energy; what is stated of it counts whatever else may hold it.</summary>
    private static Recommendation RecommendationOf(
        string goal, CutEstimate estimate, JoinedCuts joined, double confidence, ValueList<Reason> reasons)
    {
        return new()
        {
            Goal = goal,
            PowerPercent = estimate.PowerPercent,
            SpeedMmPerMin = estimate.SpeedMmPerMin,
            Passes = estimate.Cell.Settings.Passes,
            Cell = estimate.Cell.Address,
            Card = estimate.Cell.Card == 0 ? null : joined.Earlier[estimate.Cell.Card - 1].Plan.Number,
            Reasons = reasons,
            Confidence = StatedOf(estimate.Through, confidence),
            Interval = IntervalOf(estimate.Through),
        };
    }
}
