using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>What is measured of a photo: the card itself, or the grid that shows in the window of a frame sheet.</summary>
/// <param name="Picture">The photo, its tone curve undone where that is known. Not owned.</param>
/// <param name="Pose">From the measured plan's millimetres to the photo.</param>
/// <param name="Plan">The measured plan: of a framed grid, the cells and the bare strips around them, nothing else.</param>
/// <param name="IsLighter">True where burning makes the material lighter.</param>
/// <param name="UprightPose">From the millimetres of the plan as it is to the photo, for pictures.</param>
/// <param name="Frame">What the frame sheet told; null where there is none.</param>
/// <param name="Warnings">What is doubtful.</param>
internal sealed record Target(Picture Picture, CardPose Pose, Plan Plan, bool IsLighter, CardPose UprightPose, FrameReading? Frame,
    ValueList<Warning> Warnings);

/// <summary>Finds the grid in the window of a frame sheet, so that its cells are measured like those of any card.</summary>
internal static class FramedGrid
{
    /// <summary>Bare strip around the grid that its light is judged on, mm.</summary>
    private const double StripMm = 6;

    /// <summary>Edges that miss the fitted grid by more than this say that it is another one, mm RMS.</summary>
    private const double UselessMm = 0.3;

    /// <summary>… and by more than this that it is not quite flat, or its edges are not clear.</summary>
    private const double DoubtfulMm = 0.12;

    /// <summary>A grid this much larger or smaller than the sheet says.</summary>
    private const double DoubtfulStretch = 0.02;

    /// <summary>The target of a photo of a plan without or with a frame sheet.</summary>
    public static Outcome<Target> Find(Picture picture, CardPose sheet, Plan plan, bool isInverted)
    {
        if (plan.Frame is not { } frame) return new Target(picture, sheet, plan, isInverted, sheet, null, []);
        if (isInverted) return Refusal.OfPhoto(Codes.SheetNegative);

        GreyScaleCalibration greys = GreyScaleCalibration.Of(new(picture, sheet), plan);
        // What a sensor saw needs no print to tell it.
        Picture seen = greys.Curve is { } curve && !picture.IsRaw ? picture.Through(curve.Undo) : picture;
        WindowMap map = WindowMap.Of(new(seen, sheet), frame.Window);
        CellContrast contrast = new(map, plan);
        return Locate(seen, sheet, plan, map, contrast) is var located && located.IsRefused
            ? located.Refusal!
            : Described(seen, sheet, plan, located.Value, contrast.Of(located.Value.Place), greys);
    }

    private static Outcome<GridEdges> Locate(Picture picture, CardPose sheet, Plan plan, WindowMap map, CellContrast contrast)
    {
        GridDoubt doubt = new(contrast, plan);
        GridPlace rough = GridFinder.Find(map, plan);
        // The edges make the places to compare exact; the chosen one may have other marks and is fitted again.
        if (Fit(rough) is not { } first) return GridDoubt.NotFound;
        Outcome<GridPlace> chosen = doubt.Choose(first.Place);
        if (chosen.IsRefused) return chosen.Refusal!;
        return Fit(chosen.Value) is { } fit && fit.RmsMm <= UselessMm ? fit : GridDoubt.NotFound;

        GridEdges? Fit(GridPlace place)
        {
            double least = contrast.LeastMark(place);
            return GridEdges.Fit(picture, sheet, plan, place, [.. contrast.Of(place).Select(value => Math.Abs(value) > least)]);
        }
    }

    private static Target Described(Picture picture, CardPose sheet, Plan plan, GridEdges edges, double[] contrasts,
        GreyScaleCalibration greys)
    {
        GridPlace place = edges.Place;
        PlanePoint origin = new(plan.Cells.Min(cell => cell.XMm) - StripMm, plan.Cells.Min(cell => cell.YMm) - StripMm);
        FrameReading reading = new()
        {
            OffsetXMm = Rounded(place.Offset.X, 2),
            OffsetYMm = Rounded(place.Offset.Y, 2),
            TurnDeg = Rounded(place.TurnRad * 180 / Math.PI, 2),
            Scale = Rounded(place.Scale, 4),
            EdgeRmsMm = Rounded(edges.RmsMm, 3),
            GreyRms = greys.Rms is { } rms ? Rounded(rms, 3) : null,
            DensityOneSeenAs = greys.DensityOneSeenAs is { } seen ? Rounded(seen, 3) : null,
        };
        bool isLighter = contrasts.Where(double.IsFinite).Sum() > 0;
        return new(picture, place.On(sheet, origin), Alone(plan, origin), isLighter, place.On(sheet, default), reading,
            Doubts(plan, edges, greys).ToValueList());

        // The sum makes 0 of −0.
        static double Rounded(double value, int digits) => Math.Round(value, digits) + 0.0;
    }

    /// <summary>The grid and the strip around it as a card of their own: what lies beyond is paper, or the piece's labels.</summary>
    private static Plan Alone(Plan plan, PlanePoint origin) => plan with
    {
        Frame = null,
        Fiducials = plan.Fiducials with { Markers = [] },
        Card = new()
        {
            WidthMm = plan.Cells.Max(cell => cell.XMm + cell.WidthMm) + StripMm - origin.X,
            HeightMm = plan.Cells.Max(cell => cell.YMm + cell.HeightMm) + StripMm - origin.Y,
        },
        Cells = plan.Cells.Select(cell => cell with { XMm = cell.XMm - origin.X, YMm = cell.YMm - origin.Y }).ToValueList(),
    };

    private static IEnumerable<Warning> Doubts(Plan plan, GridEdges edges, GreyScaleCalibration greys)
    {
        if (greys.Doubt is { } doubt) yield return doubt;
        if (edges.RmsMm > DoubtfulMm) yield return new(Codes.GridResidual, ("residual", Mm(edges.RmsMm)));
        double stretch = edges.Place.Scale - 1;
        if (Math.Abs(stretch) > DoubtfulStretch)
            yield return new(Codes.SheetScale, ("difference", Share(Math.Abs(stretch))), ("size", stretch > 0 ? "larger" : "smaller"));
        if (!GridDoubt.HasOrder(plan)) yield return new(Codes.GridOrderUnknown);
    }
}
