using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving;

/// <summary>
/// A corner of the card that got less energy than its settings say: out of focus, a bed not level, smoke that hangs there.
/// </summary>
/// <param name="Corner">Which one: <c>top-left</c>, <c>top-right</c>, <c>bottom-left</c> or <c>bottom-right</c>.</param>
/// <param name="LnDose">ln of the energy that it got, over that of the opposite corner; below 0.</param>
/// <param name="LnDoseError">Its standard error.</param>
/// <remarks>
/// A corner weaker by a field that falls off along both sides of the card is no law of power and speed: whatever the
/// scales of the two, they add up in the ln of the dose, and the product of two places does not. Where rows and columns
/// are the settings, little of a corner is left to see, and which end of a diagonal is the weak one least; where the
/// plan mixes the places up, a corner shows clearly. A slope along one side alone looks like another exponent of the
/// setting that changes there. docs/method/engrave-scoring.md, "Place".
/// </remarks>
internal sealed record PlaceTrend(string Corner, double LnDose, double LnDoseError)
{
    /// <summary>Cells of a card below which a corner is not judged.</summary>
    private const int FewestCells = 30;

    /// <summary>Least weakening that is told, ln dose: about 10 %.</summary>
    private const double LeastWeakening = 0.1;

    /// <summary>
    /// Standard errors from which on it is told: false alarms of simulated cards stay below 5 %
    /// (docs/method/calibration.md, "A trend over the place").
    /// </summary>
    private const double ClearErrors = 3;

    /// <summary>
    /// Spreads of the deviations by dose, in shares of the mark, and of the settings' scales: what other laws and
    /// drivers make (chosen here).
    /// </summary>
    private const double DeviationSpread = 0.01;

    private static readonly (string Name, bool IsRight, bool IsBottom)[] Corners =
        [("top-left", false, false), ("top-right", true, false), ("bottom-left", false, true), ("bottom-right", true, true)];

    /// <summary>The weaker corner of the reading's own card; null where none is told.</summary>
    public static PlaceTrend? On(LawPosterior posterior)
    {
        LawFit fit = posterior.Fit;
        if (fit.Card.Marked.Count(cell => cell.Cell.Card == 0) < FewestCells) return null;
        if (posterior.AdditiveRoot(DeviationSpread) is not { } root) return null;
        double[][] columns = posterior.AdditiveColumns;
        CardPlaces places = new(fit.Card);
        double[] gradient = [.. columns.Select(column => Vectors.Dot(column, fit.ScaledResiduals))];
        double[] solved = root.Solve(gradient);
        double square = Vectors.Dot(fit.ScaledResiduals, fit.ScaledResiduals) - Vectors.Dot(gradient, solved);
        PlaceTrend? worst = null;
        foreach ((string name, bool isRight, bool isBottom) in Corners)
        {
            double[] field = FieldOf(posterior, places, isRight, isBottom);
            double[] shared = [.. columns.Select(column => Vectors.Dot(column, field))];
            double own = Vectors.Dot(field, field) - Vectors.Dot(shared, root.Solve(shared)),
                along = Vectors.Dot(field, fit.ScaledResiduals) - Vectors.Dot(shared, solved);
            if (!(own > 1e-9)) continue;
            double lnDose = along / own, left = Math.Max(square - along * along / own, 0);
            PlaceTrend trend = new(name, lnDose, Math.Sqrt(left / Math.Max(1, fit.DegreesOfFreedom - 1) / own));
            if (trend.IsClear && (worst is null || trend.Errors > worst.Errors)) worst = trend;
        }

        return worst;
    }

    private double Errors => -LnDose / LnDoseError;

    private bool IsClear => LnDose < -LeastWeakening && Errors > ClearErrors;

    /// <summary>The chance of a full mark at a setting, did its cell stand in the weak corner.</summary>
    public double At(LawChoice choice, MarkDraws draws, MarkEstimate chosen, ScoringOptions options)
    {
        (string _, bool isRight, bool isBottom) = Corners.First(corner => corner.Name == Corner);
        double lacking = LnDose * (1 - new CardPlaces(choice.Card).PartAt(chosen.Marked.Cell, isRight, isBottom));
        return draws.EstimateAt(choice.IndexOf(chosen.Marked), options.FullMarkShare, lacking, 0).FullMarkProbability;
    }

    private static double[] FieldOf(LawPosterior posterior, CardPlaces places, bool isRight, bool isBottom) =>
        [.. posterior.Fit.Card.Marked.Select((cell, i) => cell.Cell.Card != 0 ? 0
            : places.PartAt(cell.Cell, isRight, isBottom) * posterior.Terms.SlopeAt(posterior.Terms.PointOf(i))
                * posterior.Fit.Strongest / posterior.Fit.Deviations[i])];
}
