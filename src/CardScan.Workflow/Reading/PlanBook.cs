using System.Collections.Concurrent;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>The plans of the cards that photos show: those that a person named, else those of the archive's newest open cards.</summary>
/// <remarks>May be asked by several threads; each card of the archive is looked up once.</remarks>
internal sealed class PlanBook
{
    private readonly ReadRequest _request;
    private readonly IReadOnlyDictionary<int, ChosenPlan> _named;
    private readonly ConcurrentDictionary<ValueList<int>, Lazy<Outcome<ChosenPlan>>> _found = new();

    private PlanBook(ReadRequest request, IReadOnlyDictionary<int, ChosenPlan> named) => (_request, _named) = (request, named);

    /// <summary>The plan that is taken for all photos, whatever they show; null where each photo tells its own.</summary>
    public ChosenPlan? Only => _request.Plans.Count == 1 ? _named.Values.Single() : null;

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

    /// <summary>The plan of the card that a photo shows.</summary>
    /// <param name="numbers">The numbers of the cards whose markers are seen, the likeliest first.</param>
    public Outcome<ChosenPlan> For(ValueList<int> numbers)
    {
        if (Only is { } only) return only;
        foreach (int number in numbers)
        {
            if (_named.TryGetValue(number, out ChosenPlan? named)) return named;
        }

        return _found.GetOrAdd(numbers, _ => new(() => InArchive(numbers))).Value;
    }

    private Outcome<ChosenPlan> InArchive(ValueList<int> numbers)
    {
        Outcome<ChosenPlan> plan = PlanChoice.ByNumber(numbers, _request.Archive);
        return !plan.IsRefused && _request.IsOfOneCard && ObstacleTo(plan.Value.File, _request) is { } obstacle ? obstacle : plan;
    }

    /// <summary>What keeps the results of a card from being written; null where nothing does.</summary>
    public static Refusal? ObstacleTo(PlanFile plan, ReadRequest request) =>
        request.FolderOf(plan.Plan) is { } folder ? ReportFiles.FirstObstacle(folder, plan.Plan, plan.Sha256) : null;
}
