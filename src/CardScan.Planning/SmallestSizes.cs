using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>How small cells, gaps and markers may be: what burning allows, and what an ordinary photo of the card shows.</summary>
/// <remarks>Measured on rendered photos with a margin: docs/method/small-cards.md.</remarks>
internal static class SmallestSizes
{
    /// <summary>Sizes that every card's photo shows well, mm: what was asked for before cards could be small.</summary>
    private const double UsualCellMm = 4, UsualGapMm = 6, UsualMarkerMm = 10, LadderCellMm = 10;

    /// <summary>Pixels of an ordinary photo that each needs; less is asked for only on cards that get fewer than 20 px/mm or so.</summary>
    private const double CellPx = 60, GapPx = 40, MarkerPx = 80;

    /// <summary>From large to small: what is tried on a card whose size is given and nothing else.</summary>
    private static readonly (double Cell, double Gap, double Marker)[] Choices =
    [
        (8, 6, 10), (6, 6, 10), (6, 5, 8), (5, 6, 6), (5, 4, 8), (5, 4, 6), (4, 6, 6), (4, 4, 6), (4, 3, 6), (3, 3, 6),
    ];

    /// <summary>Least side of a cell, mm.</summary>
    internal static double CellMm(PlanRequest request) =>
        request.Kind == CardKind.FocusLadder ? LadderCellMm : IsFilled(request) ? PlanRequest.LeastCellMm : UsualCellMm;

    /// <summary>Least strip between cells, mm.</summary>
    internal static double GapMm(PlanRequest request) => IsFilled(request) ? PlanRequest.LeastGapMm : UsualGapMm;

    /// <summary>Least side of a marker, mm: the greys of a paper mask are as high as its markers leave them.</summary>
    internal static double MarkerMm(PlanRequest request) => request.Frame is null ? PlanRequest.LeastMarkerMm : UsualMarkerMm;

    /// <summary>Why an ordinary photo of the card is too coarse for a size, or null.</summary>
    internal static Refusal? FaultOn(CardSize card, PlanRequest request)
    {
        double pxPerMm = PhotoBudget.PxPerMm(card);
        return Fault("--cell", request.CellSideMm, CellPx, UsualCellMm)
            ?? Fault("--gap", request.GapMm, GapPx, UsualGapMm)
            ?? Fault("--marker", request.MarkerSideMm, MarkerPx, UsualMarkerMm);

        Refusal? Fault(string option, double sideMm, double neededPx, double usualMm)
        {
            double leastMm = Math.Min(usualMm, Math.Ceiling(10 * neededPx / pxPerMm) / 10);
            return sideMm >= leastMm
                ? null
                : RequestCheck.Fault("photo", ("option", new OptionName(option)), ("value", Given(sideMm)), ("least", Mm(leastMm)),
                    ("width", Mm(card.WidthMm)), ("height", Mm(card.HeightMm)), ("found", In(Unit.PxPerMm, pxPerMm)));
        }
    }

    /// <summary>The request with the largest sizes that fit on its card, or with the smallest where none do.</summary>
    internal static PlanRequest FitTo(PlanRequest request)
    {
        PlanRequest[] choices = [.. Choices.Select(choice => request with
        {
            CellSideMm = choice.Cell, GapMm = choice.Gap, MarkerSideMm = choice.Marker,
        }).Where(choice => RequestCheck.FirstFault(choice) is null)];
        return choices.FirstOrDefault(choice => CardPlanner.MakePlan(choice).Refusal?.Code != Codes.PlanSize)
            ?? choices.LastOrDefault() ?? request;
    }

    private static bool IsFilled(PlanRequest request) => request is { Process: Process.Engrave, Kind: CardKind.Grid };
}
