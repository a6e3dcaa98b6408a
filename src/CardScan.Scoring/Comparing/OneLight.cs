using CardScan.Model;

namespace CardScan.Scoring.Comparing;

/// <summary>Two cards in one photo: phone, exposure and tone curve are the same, and drop out of a ratio of energies.</summary>
/// <remarks>
/// What is left is that light differs over the table, and that phones tone places apart. Both stretch the marks of one card against
/// those of the other, and the markers of both show by how much: they were burned alike. docs/method/comparing.md, "One photo of both".
/// </remarks>
internal sealed class OneLight
{
    /// <summary>
    /// What markers of another darkness than the cells leave open of the stretch, as a share of it: a curve bends, and a stretch
    /// is its mean.
    /// </summary>
    private const double OpenShare = 0.4;

    /// <summary>
    /// How a marker's darkness follows energy, relative over ln, where it is as dark as most are (0.89 of the strongest mark, by the
    /// law of the demo's birch): a batch that needs more energy has paler markers too, unless they are saturated.
    /// </summary>
    private const double MarkersFollow = 0.38;

    /// <summary>Light in one photo stretches marks by no more; markers that differ by more were burned differently.</summary>
    private const double MostStretch = 0.15;

    private readonly double _stretch, _error;

    private OneLight(double stretch, double error) => (_stretch, _error) = (stretch, error);

    /// <summary>
    /// What two readings of different cards share; null where they have no photo in common, or it does not show the markers.
    /// </summary>
    public static OneLight? Of(Reading first, Reading later)
    {
        if (!IsShared(first, later)) return null;
        foreach (PhotoRecord photo in first.Photos)
        {
            if (later.Photos.FirstOrDefault(other => IsSame(photo, other)) is not { } same) continue;
            if (photo.Quality?.MarkerDarkness is not { } own || same.Quality?.MarkerDarkness is not { } its) continue;
            double stretch = own.Value / its.Value;
            if (!(stretch > 0)) continue;
            double scatter = double.Hypot(own.StandardError / own.Value, its.StandardError / its.Value);
            return Math.Abs(stretch - 1) > MostStretch
                ? new(1, stretch - 1)
                : new(stretch, double.Hypot(scatter, OpenShare * (stretch - 1)));
        }

        return null;
    }

    /// <summary>True where two cards lie in one photo.</summary>
    private static bool IsShared(Reading first, Reading later) =>
        first.PlanSha256 != later.PlanSha256 && first.Photos.Any(photo => later.Photos.Any(other => IsSame(photo, other)));

    /// <summary>Share by which the later card's marks are drawn out against the first one's, or pressed together (below 0).</summary>
    public double DrawnOut => 1 / _stretch - 1;

    /// <summary>The later card's marks as they would be in the first one's place.</summary>
    public Reading InPlaceOfFirst(Reading later) => Stretched(later, _stretch);

    /// <summary>
    /// What is not known of the stretch: how well the markers tell it, and, where the later card needs more energy, whether they are
    /// saturated, which is anything from not to wholly (a uniform distribution). One tone curve bends both alike.
    /// </summary>
    public StretchDoubt Doubt => new(lnRatio => double.Hypot(_error, MarkersFollow * lnRatio / Math.Sqrt(3)), StrongAgainstFaint: 0);

    private static bool IsSame(PhotoRecord photo, PhotoRecord other) =>
        string.Equals(photo.Sha256, other.Sha256, StringComparison.OrdinalIgnoreCase);

    /// <summary>A reading with all its darkness multiplied.</summary>
    internal static Reading Stretched(Reading reading, double factor) => reading with
    {
        Cells = reading.Cells.Select(cell => cell.Darkness is { } darkness
            ? cell with { Darkness = new(factor * darkness.Value, factor * darkness.StandardError) }
            : cell).ToValueList(),
    };
}
