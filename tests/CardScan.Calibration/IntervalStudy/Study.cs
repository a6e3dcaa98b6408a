namespace CardScan.Calibration;

/// <summary>The cases of the study and their cards.</summary>
internal static class Study
{
    /// <summary>Every law, size, chance and steepness of both processes, undisturbed.</summary>
    public static IEnumerable<StudyCase> Undisturbed =>
        from process in new[] { Model.Process.Engrave, Model.Process.Cut }
        from law in process == Model.Process.Engrave ? MarkLaws.Names : SideLaws.Names
        from side in StudyCase.Sides
        from chance in StudyCase.ChancesPercent
        from steepness in process == Model.Process.Engrave ? MarkLaws.Steepnesses : SideLaws.Steepnesses
        select new StudyCase(process, law, side, chance, steepness, Disturbance.None);

    /// <summary>The scoring's own law with something wrong besides chance.</summary>
    public static IEnumerable<StudyCase> Disturbed =>
        from process in new[] { Model.Process.Engrave, Model.Process.Cut }
        from disturbance in process == Model.Process.Engrave
            ? new[] { Spoiled, Unseen, new Disturbance("errors twice the stated") { ErrorOverStated = 2 } }
            : [Spoiled, Unseen, new Disturbance("held sides partly open") { PartialWidth = 0.15 }]
        from side in StudyCase.Sides
        select new StudyCase(process, process == Model.Process.Engrave ? MarkLaws.Saturating : SideLaws.Logistic, side, 2,
            "middling", disturbance);

    private static Disturbance Spoiled { get; } = new("1 cell in 20 spoiled") { Spoiled = 0.05 };

    private static Disturbance Unseen { get; } = new("1 in 10 not seen") { Unseen = 0.1 };

    /// <summary>The cards of one case, scored and judged. The same seed gives the same cards, whatever else is run.</summary>
    public static CardResult[] Run(StudyCase study, int cards, int seed)
    {
        CardResult[] results = new CardResult[cards];
        Parallel.For(0, cards, i =>
        {
            Chance chance = Chance.Of($"{seed}/{study.Name}/{i}");
            results[i] = Judge.Of(study.Draw(chance), chance);
        });
        return results;
    }
}
