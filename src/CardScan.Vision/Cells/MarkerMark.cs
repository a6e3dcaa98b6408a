using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How dark a marker's burned modules look against the bare material's light.</summary>
/// <param name="Centre">Its centre, mm.</param>
/// <param name="Ratio">Luminance against bare material.</param>
/// <param name="Error">Standard error of the ratio, by the scatter of its modules.</param>
internal readonly record struct MarkerMark(PlanePoint Centre, double Ratio, double Error)
{
    /// <summary>Modules along a side; those of the border are all burned.</summary>
    private const int Modules = 8;

    /// <summary>Part of a module that blur and char leave alone.</summary>
    private const double MiddleShare = 0.4;

    private const int SamplesPerModuleSide = 3;

    /// <summary>Measures the seen markers.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="logLight">Natural log of bare material's luminance at a place.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="seen">Places of the markers that the photo shows.</param>
    public static MarkerMark[] Of(CardSurface surface, Func<PlanePoint, double> logLight, Plan plan, IEnumerable<int> seen)
    {
        double moduleMm = plan.Fiducials.SideMm / Modules, sideMm = MiddleShare * moduleMm;
        return [.. seen.Where(place => place < plan.Fiducials.Markers.Count).Select(place => Measure(plan.Fiducials.Markers[place]))];

        MarkerMark Measure(Marker marker)
        {
            double[] ratios = [.. Border().Select(module =>
            {
                Patch patch = surface.Mean(
                    marker.XMm + moduleMm * (module.Column + 0.5) - sideMm / 2, marker.YMm + moduleMm * (module.Row + 0.5) - sideMm / 2,
                    sideMm, sideMm, SamplesPerModuleSide);
                return patch.SeenShare < 1 ? double.NaN : patch.Rgb.Luminance / Math.Exp(logLight(patch.Centre));
            })];
            // A stain covers some modules; the median is of the others. Grain makes a side's modules alike, so that four sides are four
            // values.
            double ratio = Robust.Median(ratios);
            return new(new(marker.XMm + plan.Fiducials.SideMm / 2, marker.YMm + plan.Fiducials.SideMm / 2), ratio,
                Robust.Deviation(ratios, ratio) / 2);
        }
    }

    private static IEnumerable<(int Row, int Column)> Border() =>
        from row in Enumerable.Range(0, Modules)
        from column in Enumerable.Range(0, Modules)
        where row % (Modules - 1) == 0 || column % (Modules - 1) == 0
        select (row, column);
}
