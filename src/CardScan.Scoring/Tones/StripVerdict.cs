using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Tones;

/// <summary>What a grey strip is good for: it has no settings, but tells the tones of the photos it lies in.</summary>
internal static class StripVerdict
{
    public static Verdict Of(Reading reading)
    {
        Measured[] greys = [.. reading.Cells.Where(cell => !cell.Flags.Any(CellFlag.IsDisqualifying))
            .Select(cell => cell.Darkness).OfType<Measured>()];
        bool isKnown = greys.Length > 0 && reading.Photos.Count > 0 && reading.Photos.All(photo => photo.Response is { IsMeasured: true });
        if (!isKnown) return new() { Advice = [new(Codes.StripUnknown)] };
        return new()
        {
            Advice =
            [
                new(Codes.StripKnown, ("count", greys.Length), ("least", In(Unit.Density, greys.Min(grey => grey.Value))),
                    ("most", In(Unit.Density, greys.Max(grey => grey.Value))),
                    ("error", Share(reading.Photos.Max(photo => photo.Quality?.DarknessScaleError) ?? 0))),
            ],
        };
    }
}
