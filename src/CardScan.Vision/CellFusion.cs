using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>Several photos' measurements of the same cells, combined.</summary>
internal static class CellFusion
{
    /// <summary>
    /// Photos of one card that differ by more than this in darkness (standard deviation, RMS over cells) were toned
    /// differently.
    /// </summary>
    private const double MostSpread = 0.02;

    /// <summary>Combines the photos' cells, which stand in the plan's order in each.</summary>
    public static ValueList<CellReading> Fuse(Plan plan, IReadOnlyList<CardView> photos)
    {
        BackLitView[] backLit = [.. photos.Select(photo => photo.BackLit).OfType<BackLitView>()];
        return plan.Cells.Select((cell, i) => WithSides(Fuse(photos, i), backLit, cell, i)).ToValueList();
    }

    /// <summary>A warning where front-lit photos of the card disagree on its darkness; null where they agree or there is one.</summary>
    public static Warning? Disagreement(IReadOnlyList<CardView> photos)
    {
        // Against a photo whose tones are known the others differ by their phone's tone curve, and darkness is not taken from them.
        CardView[] compared = photos.Any(HasKnownTones) ? [.. photos.Where(HasKnownTones)] : [.. photos];
        double[] spreads = [.. photos[0].Cells
            .Select((_, i) => Spread([.. compared.Select(photo => photo.Cells[i]).Where(IsUsable).Select(cell => cell.Darkness)
                .OfType<Measured>()]))
            .OfType<double>()];
        if (spreads.Length == 0) return null;
        double rms = Math.Sqrt(spreads.Average(spread => spread * spread));
        return rms <= MostSpread ? null : new(Codes.PhotosDisagree, ("difference", In(Unit.Density, rms)));
    }

    private static bool HasKnownTones(CardView photo) => photo.Record.Response is { IsMeasured: true };

    private static double? Spread(Measured[] views) =>
        views.Length < 2 ? null : Math.Sqrt(Robust.Variance([.. views.Select(view => view.Value)]));

    private static bool IsUsable(CellReading view) =>
        (view.LineWidths is not null || (view.Darkness ?? view.HaloMm) is not null) && !view.Flags.Any(CellFlag.IsDisqualifying);

    private static CellReading WithSides(CellReading cell, BackLitView[] backLit, Cell planned, int index)
    {
        if (backLit.Length == 0) return cell;
        SideView[] views = [.. Enumerable.Range(0, 4).Select(side => SideView.Fuse([.. backLit.Select(view => view.Sides[index][side])]))];
        SideReading[] sides = [.. views.Select((view, side) => SideSummary.Describe(SideTabs.Marked(view, planned, (CellSide)side)))];
        Sides all = new(sides[0], sides[1], sides[2], sides[3]);
        bool isDropped = backLit.Any(view => view.Dropped[index]);
        return cell with
        {
            Sides = all,
            Through = SideSummary.ThroughOf(all),
            Flags = isDropped ? [.. cell.Flags, CellFlag.DroppedOut]
                : views.Index().Any(view => SideTabs.IsAnyBurnedAway(view.Item, planned, (CellSide)view.Index))
                    ? [.. cell.Flags, CellFlag.TabBurned]
                : cell.Flags,
        };
    }

    private static CellReading Fuse(IReadOnlyList<CardView> photos, int index)
    {
        CellReading[] views = [.. photos.Select(photo => photo.Cells[index])];
        if (views.Length == 1) return views[0];

        // A view lost in glare says nothing; it counts only where no better one exists.
        CellReading[] usable = [.. views.Where(IsUsable)];
        if (usable.Length == 0) return views[0];
        CellReading[] known = [.. photos.Where(HasKnownTones).Select(photo => photo.Cells[index]).Where(IsUsable)];
        bool isUnlikeOthers = known.Length == 0 && photos.Any(HasKnownTones);
        CellReading[] toned = known.Length > 0 ? known
            : isUnlikeOthers ? [.. photos.Where(photo => IsUsable(photo.Cells[index])).Select(photo => WithShared(photo, index))]
            : usable;
        if (usable.Length == 1) return toned[0];
        return toned[0] with
        {
            CenterPx = (views.FirstOrDefault(view => !view.Flags.Contains(CellFlag.OutOfFrame)) ?? views[0]).CenterPx,
            Darkness = Mean(toned.Select(view => view.Darkness)),
            Lightness = Mean(toned.Select(view => view.Lightness)),
            Contrast = Mean(toned.Select(view => view.Contrast)),
            DeltaE2000 = Mean(toned.Select(view => view.DeltaE2000)),
            Evenness = Mean(toned.Select(view => view.Evenness)),
            HaloMm = Mean(usable.Select(view => view.HaloMm)),
            LineWidths = Widths([.. usable.Select(view => view.LineWidths).OfType<LineWidths>()]),
            Flags = usable.SelectMany(view => view.Flags).Distinct().ToValueList(),
        };
    }

    /// <summary>
    /// A cell of a photo of unknown tones among cells of known ones: what elsewhere all cells share stands between it and them.
    /// </summary>
    private static CellReading WithShared(CardView photo, int index)
    {
        CellReading cell = photo.Cells[index];
        double shared = photo.Record.Quality?.DarknessScaleError ?? 0;
        double ratio = 1 + (cell.Contrast?.Value ?? 0), log = Math.Log(Math.Max(ratio, 1e-5));
        return cell with
        {
            Darkness = Wider(cell.Darkness, shared * log / Math.Log(10)),
            Contrast = Wider(cell.Contrast, shared * log * ratio),
        };

        static Measured? Wider(Measured? value, double by) =>
            value is null ? null : Measured.Of(value.Value, double.Hypot(value.StandardError, by));
    }

    private static LineWidths? Widths(LineWidths[] views) => views.Length == 0 ? null
        : new() { AcrossXMm = Mean(views.Select(view => view.AcrossXMm)), AcrossYMm = Mean(views.Select(view => view.AcrossYMm)) };

    /// <summary>
    /// Mean weighted by 1/error². The grain is the same in every photo, so the errors are not independent: the mean keeps
    /// the weighted average of them, and more where the photos disagree by more than they state.
    /// </summary>
    private static Measured? Mean(IEnumerable<Measured?> views)
    {
        Measured[] known = [.. views.OfType<Measured>()];
        if (known.Length == 0) return null;
        double[] weights = [.. known.Select(view => 1 / Math.Max(view.StandardError * view.StandardError, 1e-12))];
        double total = weights.Sum();
        double mean = known.Select((view, i) => weights[i] * view.Value).Sum() / total;
        double stated = known.Select((view, i) => weights[i] * view.StandardError).Sum() / total;
        double between = Math.Sqrt(known.Select((view, i) => weights[i] * Math.Pow(view.Value - mean, 2)).Sum() / total);
        return Measured.Of(mean, Math.Max(stated, between));
    }
}
