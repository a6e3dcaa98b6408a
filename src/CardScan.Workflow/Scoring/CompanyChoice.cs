using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>A reading and the cards that it is scored with.</summary>
/// <param name="Reading">The reading that is scored: the first that was named.</param>
/// <param name="Company">The earlier cards.</param>
internal sealed record ReadingInCompany(Reading Reading, Company Company);

/// <summary>What a person who names one or more readings wants scored, and with what.</summary>
internal static class CompanyChoice
{
    /// <summary>
    /// The first reading is scored. With it go the others that are named; a reading of the archive that is named by itself
    /// brings the cards that were read before it.
    /// </summary>
    /// <param name="names">Readings, as <see cref="ReadingSource"/> takes them; one or more.</param>
    /// <param name="archive">Where names that are no files are looked for; null looks nowhere.</param>
    /// <param name="isAlone">True to leave the archive's other cards out.</param>
    /// <returns>Reading and company, or why they do not go together; nothing is joined in part.</returns>
    public static Outcome<ReadingInCompany> Of(ValueList<string> names, ArchivePlace? archive, bool isAlone)
    {
        Outcome<ValueList<GivenReading>> named = ReadingSource.Given(names, archive);
        if (named.IsRefused) return named.Refusal!;
        GivenReading first = named.Value[0];
        if (named.Value.Count == 1 && isAlone) return new ReadingInCompany(first.Reading, Company.None);
        if (named.Value.Count == 1 && first.KeptId is { } kept)
            return new ReadingInCompany(first.Reading, CompanyFinder.Of(first.Reading, archive!, kept));

        IEnumerable<Refusal> obstacles = Pairs(named.Value).Select(pair => Obstacle(pair.First, pair.Second)).OfType<Refusal>();
        if (obstacles.FirstOrDefault() is { } obstacle) return obstacle;
        if (named.Value.Count - 1 > Company.MostCards)
            return Refusal.OfInput(Codes.CardsMany, ("named", named.Value.Count), ("most", Company.MostCards + 1));
        ValueList<EarlierCard> others =
            named.Value.Skip(1).Select(other => new EarlierCard(other.Reading, other.FirstReadUtc)).ToValueList();
        return new ReadingInCompany(first.Reading, new(others, LeftOut(first, others)));
    }

    private static IEnumerable<(GivenReading First, GivenReading Second)> Pairs(ValueList<GivenReading> all) =>
        all.SelectMany((first, i) => all.Skip(i + 1).Select(second => (first, second)));

    private static Refusal? Obstacle(GivenReading first, GivenReading second)
    {
        (Reading a, Reading b) = (first.Reading, second.Reading);
        if (a.Plan == b.Plan && (a.Cells.Equals(b.Cells) || a.Photos.Any(photo => b.Photos.Any(other => other.Sha256 == photo.Sha256))))
            return Refusal.OfInput(Codes.ReadingTwice, ("first", first.Name), ("second", second.Name), ("card", a.Plan.Number));
        if (CardJoin.Obstacle(a, b) is { } unlike)
            return unlike.In(Voice.Say("workflow.both", ("first", first.Name), ("second", second.Name)));
        return a.Plan.Number == b.Plan.Number
            ? Refusal.OfInput(Codes.CardsSameNumber, ("first", first.Name), ("second", second.Name), ("card", a.Plan.Number))
            : null;
    }

    /// <summary>A reading from a file says with which cards it was scored, and does not bring them.</summary>
    private static ValueList<Warning> LeftOut(GivenReading named, ValueList<EarlierCard> others)
    {
        ValueList<JoinedCard> left =
            (named.Reading.Joined ?? []).Where(joined => others.All(other => other.Number != joined.Number)).ToValueList();
        return left.Count == 0
            ? []
            : [new(Codes.JoinedLeftOut,
                ("reading", named.Name), ("cards", JoinedCard.ToFigure(left)), ("number", named.Reading.Plan.Number))];
    }
}
