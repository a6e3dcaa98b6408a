using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;

namespace CardScan.Robustness;

/// <summary>Reads a photo as a user would and holds the answer against the truth.</summary>
internal static class PhotoJudge
{
    /// <summary>A cell's middle 70 % is measured: of a 5 mm cell it begins 0.75 mm inside the edge.</summary>
    private const double MostMisplacedMm = 0.5;

    public static Verdict Judge(Recipe recipe, byte[] photo)
    {
        Outcome<SeenCard> seen = OneCard.Read([new PhotoFile("photo.jpg", photo)], recipe.Truth.Plan, new VisionOptions());
        if (seen.IsRefused)
            return new() { Recipe = recipe, Outcome = Outcome.Refused, Code = seen.Refusal!.Code, Message = seen.Refusal.ToString() };

        Reading reading = CardScorer.Score(seen.Value.Reading, ScoringOptions.Default);
        double[] missesMm = [.. reading.Cells.Zip(recipe.Truth.Plan.Plan.Cells)
            .Where(pair => !pair.First.Flags.Contains(CellFlag.OutOfFrame)).Select(pair => MissMm(recipe, pair.First, pair.Second))];
        Verdict verdict = recipe.IsCut ? CutJudge.Judge(recipe, reading) : EngravedJudge.Judge(recipe, reading);
        if (missesMm.Length > 0 && missesMm.Max() > MostMisplacedMm
            && !reading.Photos[0].Warnings.Any(warning => warning.Code == "pose-residual"))
            verdict = verdict.With(new("place", $"a cell is {missesMm.Max():F2} mm off"));
        string warnings = string.Join(" | ", reading.Photos[0].Warnings.Select(warning => $"{warning.Code}: {warning.Message}"));
        return verdict with
        {
            PlaceRmsMm = missesMm.Length == 0 ? null : Math.Sqrt(missesMm.Average(miss => miss * miss)),
            Message = verdict.Message.Length == 0
                ? warnings
                : $"{verdict.Message}{(warnings.Length == 0 ? "; no warning" : $"; warned: {warnings}")}",
        };
    }

    private static double MissMm(Recipe recipe, CellReading reading, Cell cell)
    {
        (double x, double y) = recipe.View.Camera.ToCard(reading.CenterPx!.X, reading.CenterPx.Y);
        return Math.Sqrt(Math.Pow(x - cell.XMm - cell.WidthMm / 2, 2) + Math.Pow(y - cell.YMm - cell.HeightMm / 2, 2));
    }
}
