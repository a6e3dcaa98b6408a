using CardScan.Model;

namespace CardScan.Planning;

/// <summary>From what a maker asks to a plan and its drawing: the one entry to this stage.</summary>
public static class CardPlanner
{
    /// <summary>Line interval of fills where none is asked for, mm (common practice, no source).</summary>
    public const double UsualLineIntervalMm = 0.1;

    /// <summary>Makes a plan: axes, layout, markers.</summary>
    /// <param name="request">What is asked.</param>
    /// <returns>A plan that obeys <see cref="PlanRules"/>, or one line that names the option at fault and what to give.</returns>
    public static Outcome<Plan> MakePlan(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (RequestCheck.FirstFault(request) is { } fault) return fault;

        Outcome<GridSettings> grid = GridSettings.From(request);
        if (grid.IsRefused) return grid.Refusal!;

        Outcome<CardLayout> layout = CardLayout.Fit(request, grid.Value.Columns.Values.Count, grid.Value.Rows.Values.Count);
        if (layout.IsRefused) return layout.Refusal!;

        Plan plan = new()
        {
            Format = Plan.CurrentFormat,
            Number = request.Number,
            Title = request.Title,
            Process = request.Process,
            Material = request.Material,
            Machine = request.Machine,
            Card = layout.Value.Card,
            Fiducials = layout.Value.Fiducials,
            Columns = grid.Value.Columns,
            Rows = grid.Value.Rows,
            Fixed = grid.Value.Fixed,
            Cells = layout.Value.Cells,
        };
        return PlanRules.Check(plan) is { } refusal ? refusal : plan;
    }

    /// <summary>Draws a plan at true size: markers, cells, labels.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    /// <returns>
    /// An SVG text, width and height in mm, one user unit a millimetre of the card frame. Black is burned: markers and
    /// engraved cells filled, cut cells and labels as lines. One group a cell, its settings as data attributes.
    /// </returns>
    public static string DrawSvg(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return CardDrawing.Svg(plan);
    }
}
