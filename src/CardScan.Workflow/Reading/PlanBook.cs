using System.Collections.Concurrent;
using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>A card that a photo shows.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Plan">The plan that it is measured with; or why there is none.</param>
internal sealed record CardToMeasure(int Number, Outcome<ChosenPlan> Plan);

/// <summary>The plans of the cards that photos show: those that a person named, else those of the archive's newest open cards.</summary>
/// <remarks>May be asked by several threads; each card of the archive is looked up once.</remarks>
internal sealed class PlanBook
{
    private readonly ReadRequest _request;
    private readonly IReadOnlyDictionary<int, ChosenPlan> _named;
    private readonly ConcurrentDictionary<int, Lazy<Outcome<ChosenPlan>>> _found = new();

    private PlanBook(ReadRequest request, IReadOnlyDictionary<int, ChosenPlan> named) => (_request, _named) = (request, named);

    /// <summary>The plan that is taken for all photos, whatever they show; null where each photo tells its own.</summary>
    public ChosenPlan? Only => _request.Plans.Count == 1 && (_request.Card ?? _named.Keys.Single()) == _named.Keys.Single()
        ? _named.Values.Single()
        : null;

    /// <summary>The plans that a person named.</summary>
    public IEnumerable<ChosenPlan> Named => _named.Values;

    /// <summary>Reads the plans that were named.</summary>
    public static Outcome<PlanBook> Of(ReadRequest request)
    {
        Dictionary<int, (string Name, ChosenPlan Plan)> named = [];
        foreach (string name in request.Plans)
        {
            Outcome<ChosenPlan> plan = PlanChoice.Named(name, request.Archive);
            if (plan.IsRefused) return plan.Refusal!;
            int number = plan.Value.File.Plan.Number;
            if (!named.TryAdd(number, (name, plan.Value)))
                return Refusal.OfInput(Codes.PlansSameNumber, ("first", named[number].Name), ("second", name), ("number", number));
        }

        PlanBook book = new(request, named.ToDictionary(pair => pair.Key, pair => pair.Value.Plan));
        // Asked before the work, so that it is not done in vain.
        return book.Only is { } only && ObstacleTo(only.File, request) is { } obstacle ? obstacle : book;
    }

    /// <summary>The cards of a photo that are wanted, one or more.</summary>
    /// <param name="numbers">The numbers of the cards that it shows.</param>
    public IEnumerable<CardToMeasure> CardsOf(ValueList<int> numbers)
    {
        if (Only is { } only) return [new(only.File.Plan.Number, only)];
        if (_request.Card is not { } wanted) return numbers.Select(number => new CardToMeasure(number, PlanOf(number)));
        return
        [
            new(wanted, numbers.Contains(wanted)
                ? PlanOf(wanted)
                : Refusal.OfPhoto(Codes.OtherCard,
                    ("count", numbers.Count), ("found", List(numbers)), ("planned", wanted), ("asked", Is(true)))),
        ];
    }

    /// <summary>All cards of a photo, those too that are not wanted.</summary>
    /// <param name="numbers">Their numbers.</param>
    public IEnumerable<CardToMeasure> AllCardsOf(ValueList<int> numbers) =>
        numbers.Select(number => new CardToMeasure(number, PlanOf(number)));

    private Outcome<ChosenPlan> PlanOf(int number) =>
        _named.TryGetValue(number, out ChosenPlan? named) ? named : _found.GetOrAdd(number, _ => new(() => InArchive(number))).Value;

    private Outcome<ChosenPlan> InArchive(int number)
    {
        Outcome<ChosenPlan> plan = PlanChoice.ByNumber(number, _request.Archive);
        return !plan.IsRefused && _request.IsOfOneCard && ObstacleTo(plan.Value.File, _request) is { } obstacle ? obstacle : plan;
    }

    /// <summary>What keeps the results of a card from being written; null where nothing does.</summary>
    public static Refusal? ObstacleTo(PlanFile plan, ReadRequest request) =>
        request.FolderOf(plan.Plan) is { } folder ? ReportFiles.FirstObstacle(folder, plan.Plan, plan.Sha256) : null;
}
