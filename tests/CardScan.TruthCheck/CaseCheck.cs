using System.Diagnostics;
using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;
using Process = CardScan.Model.Process;

namespace CardScan.TruthCheck;

/// <summary>What one case showed. Figures that do not apply are null.</summary>
internal sealed record CaseResult
{
    public required string Name { get; init; }

    /// <summary>The refusal's code, or null where it was measured.</summary>
    public string? Refused { get; init; }

    /// <summary>Distance of the cells' centres from their true places, mm.</summary>
    public double? PlaceRmsMm { get; init; }

    public double? PlaceMaxMm { get; init; }

    public EngravedResult? Engraved { get; init; }

    public CutResult? Cut { get; init; }

    /// <summary>Codes of the photos' warnings.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    public double Milliseconds { get; init; }

    /// <summary>Targets that were missed, in words.</summary>
    public IReadOnlyList<string> Misses { get; init; } = [];
}

/// <summary>Reads the photos of one case and holds the reading against the truth.</summary>
internal static class CaseCheck
{
    /// <summary>Cells are to be found better than this (RMS), mm.</summary>
    private const double MostPlaceRmsMm = 0.1;

    /// <summary>Runs one case.</summary>
    public static CaseResult Run(CaseGroup group)
    {
        Outcome<PlanFile> plan = CardJson.ReadPlan(File.ReadAllBytes(Path.Combine(group.Folder, group.First.Plan)));
        if (plan.IsRefused) return new() { Name = group.Name, Refused = plan.Refusal!.Code, Misses = [plan.Refusal.ToString()] };

        PhotoFile[] photos =
            [.. group.Cases.Select(one => new PhotoFile(one.Photo, File.ReadAllBytes(Path.Combine(group.Folder, one.Photo))))];
        long start = Stopwatch.GetTimestamp();
        Outcome<SeenCard> outcome = OneCard.Read(photos, plan.Value, new VisionOptions());
        double milliseconds = Stopwatch.GetElapsedTime(start).TotalMilliseconds / photos.Length;

        if (outcome.IsRefused) return Refused(group, outcome.Refusal!) with { Milliseconds = milliseconds };
        if (group.First.MustBeRefused)
            return new() { Name = group.Name, Milliseconds = milliseconds, Misses = ["was measured, must be refused"] };
        return Judge(group, CardScorer.Score(outcome.Value.Reading, ScoringOptions.Default)) with { Milliseconds = milliseconds };
    }

    private static CaseResult Refused(CaseGroup group, Refusal refusal)
    {
        bool isRight = group.First.MustBeRefused && (group.First.Refusal is null || group.First.Refusal == refusal.Code);
        return new() { Name = group.Name, Refused = refusal.Code, Misses = isRight ? [] : [$"refused: {refusal}"] };
    }

    private static CaseResult Judge(CaseGroup group, Reading reading)
    {
        Truth truth = group.LoadTruth() ?? throw new InvalidDataException($"{group.Name} is to be measured but has no truth.");
        Dictionary<(int, int), TruthCell> byPlace = truth.Cells.ToDictionary(cell => (cell.Row, cell.Column));
        (CellReading Seen, TruthCell True)[] pairs = [.. reading.Cells.Where(cell => byPlace.ContainsKey((cell.Row, cell.Column)))
            .Select(cell => (cell, byPlace[(cell.Row, cell.Column)]))];

        double[] placesMm = [.. pairs.Where(pair => pair.Seen.CenterPx is not null)
            .Select(pair => pair.True.MmFromCentre(pair.Seen.CenterPx!.X, pair.Seen.CenterPx.Y))];
        EngravedResult? engraved = reading.Plan.Process == Process.Engrave ? EngravedResult.Of(reading, truth, pairs) : null;
        CutResult? cut = reading.Plan.Process == Process.Cut ? CutResult.Of(reading, truth, pairs) : null;

        double placeRmsMm = Figures.Rms(placesMm);
        List<string> misses = [];
        if (pairs.Length != truth.Cells.Count) misses.Add($"{pairs.Length} of {truth.Cells.Count} cells were read");
        if (!(placeRmsMm < MostPlaceRmsMm)) misses.Add($"cells {placeRmsMm:F3} mm RMS off");
        if (engraved is not null) misses.AddRange(engraved.Misses(group.First.IsPlainSrgb, group.IsSeries));
        if (cut is not null) misses.AddRange(cut.Misses());
        return new()
        {
            Name = group.Name,
            PlaceRmsMm = placeRmsMm,
            PlaceMaxMm = placesMm.Length == 0 ? null : placesMm.Max(),
            Engraved = engraved,
            Cut = cut,
            Warnings = [.. reading.Photos.SelectMany(photo => photo.Warnings).Select(warning => warning.Code).Distinct()],
            Misses = misses,
        };
    }
}
