using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>Tells from the places of the burned cells how far the card is bowed, and corrects the pose where that is certain.</summary>
/// <remarks>
/// The markers alone give a plane; a bow moves the cells between them, the more the farther from below the lens. Pose, lens,
/// bleed, a common shift of the cells and the surface are fitted together to marker corners and cells, so that what the pose
/// can explain as well is in the stated error. See docs/method/vision.md, "Bow".
/// </remarks>
internal static class CardBendEstimator
{
    /// <summary>Fewer places of cells than this tell no surface.</summary>
    private const int FewestPlaces = 12;

    /// <summary>
    /// χ² of 3 degrees of freedom that chance exceeds once in a thousand (any table of the distribution): a bow below is
    /// not believed.
    /// </summary>
    private const double CertainChiSquared = 16.27;

    /// <summary>A bow of this much is warned of where it is three errors or more, mm: at 15° it moves a cell by 0.13 mm.</summary>
    private const double LargeMm = 0.5;

    /// <summary>
    /// Cells are burned this exactly by their markers, mm, one standard deviation: play of belts (common practice, no
    /// source).
    /// </summary>
    private const double UsualShiftMm = 0.05;

    private const int Lens = 8, Bleed = 9, ShiftX = 10, ShiftY = 11, RiseX = 12, RiseY = 13, Twist = 14, Unknowns = 15;

    private const int Rounds = 8;

    /// <summary>The pose with what the cells tell of the card's bow; as it was where they tell nothing.</summary>
    /// <remarks>
    /// Only filled cells have edges on both sides, and only with a known focal length is it known from where the lens
    /// looked.
    /// </remarks>
    public static SolvedPose Correct(Picture picture, ValueList<RefinedMarker> markers, SolvedPose solved, Plan plan)
    {
        if (plan.Process != Process.Engrave || plan.Kind == CardKind.FocusLadder || plan.Frame is not null || !solved.Camera.IsFocalKnown)
            return solved;
        Fit flat = new(solved.Pose, new BowedSurface(plan, solved.Camera.PositionMm), solved.BleedMm, null, 0);
        if (Improve(flat, picture, markers, plan, solved.PxPerMm) is not { } first) return solved;
        if (!first.IsCertain) return solved with { Bow = first.Told(isCorrected: false) };

        // Edges far from where they were looked for are measured less well, so once more from where they are.
        Fit fit = Improve(first, picture, markers, plan, solved.PxPerMm) is { IsCertain: true } second ? second : first;
        double rmsPx = PoseSolver.RmsPx(fit.Pose, markers, plan, fit.BleedMm);
        return solved with
        {
            Pose = fit.Pose,
            BleedMm = fit.BleedMm,
            ReprojectionRmsPx = rmsPx,
            Bow = fit.Told(isCorrected: true),
            Warnings = [.. Doubts(fit)],
        };
    }

    private static IEnumerable<Warning> Doubts(Fit fit)
    {
        CardBow bow = fit.Told(isCorrected: true);
        bool isAlongX = Math.Abs(bow.RiseXMm.Value) >= Math.Abs(bow.RiseYMm.Value);
        (double value, double error) = isAlongX
            ? (bow.RiseXMm.Value, bow.RiseXMm.StandardError)
            : (bow.RiseYMm.Value, bow.RiseYMm.StandardError);
        if (Math.Abs(value) < Math.Max(LargeMm, 3 * error)) yield break;
        yield return new(Codes.Bowed, ("rise", Mm(Math.Abs(value))), ("error", Mm(2 * error)), ("way", value > 0 ? "above" : "below"),
            ("edges", isAlongX ? "sides" : "ends"));
    }

    /// <summary>One step of the fit, from where it is; null where too few cells show their edges.</summary>
    private static Fit? Improve(Fit from, Picture picture, ValueList<RefinedMarker> markers, Plan plan, double pxPerMm)
    {
        Basis basis = new(from);
        PlanePoint[] planned = PoseSolver.PlannedCorners(markers, plan, from.BleedMm);
        PlanePoint[] corners = [.. markers.SelectMany(marker => marker.Corners).Select(from.Pose.ToCard)];
        List<MissRow> rows = [];
        for (int i = 0; i < corners.Length; i++)
        {
            (double right, double down) = (i % 4 is 1 or 2 ? 1 : -1, i % 4 >= 2 ? 1 : -1);
            PlanePoint miss = corners[i] - planned[i];
            rows.Add(new(basis.AlongX(planned[i], Bleed, right), miss.X, Kind.Marker, null));
            rows.Add(new(basis.AlongY(planned[i], Bleed, down), miss.Y, Kind.Marker, null));
        }

        int ofMarkers = rows.Count;
        CardSurface surface = new(picture, from.Pose);
        foreach (Cell cell in plan.Cells)
        {
            PlanePoint centre = new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);
            double gapMm = Gap.Around(cell, plan);
            if (CellPlace.ShiftX(surface, cell, gapMm) is { } x) rows.Add(new(basis.AlongX(centre, ShiftX, 1), x, Kind.CellX, cell));
            if (CellPlace.ShiftY(surface, cell, gapMm) is { } y) rows.Add(new(basis.AlongY(centre, ShiftY, 1), y, Kind.CellY, cell));
        }

        return rows.Count - ofMarkers < FewestPlaces ? null : Solve(from, basis, rows, PoseSolver.CornerPx / pxPerMm);
    }

    /// <summary>Weighted least squares with Tukey's biweight; marker corners and cells are as exact as they turn out to be.</summary>
    private static Fit? Solve(Fit from, Basis basis, List<MissRow> rows, double leastErrorMm)
    {
        double few = Math.Sqrt(rows.Count / Math.Max(1.0, rows.Count - Unknowns));
        double[][] all = [.. rows.Select(row => row.Factors), Prior(Lens), Prior(Bleed), Prior(ShiftX), Prior(ShiftY)];
        double[] targets = [.. rows.Select(row => row.MissMm), -from.Pose.Lens.K1, -from.BleedMm, 0, 0];
        double[] priors = [Weight(PoseSolver.UsualK1), Weight(PoseSolver.UsualBleedMm), Weight(UsualShiftMm), Weight(UsualShiftMm)];
        double[] weights = [.. rows.Select(_ => Weight(leastErrorMm)), .. priors];
        double[] change = LeastSquares.SolveWeighted(all, targets, weights);
        for (int round = 0; round < Rounds; round++)
        {
            double[] residuals = [.. rows.Select(row => row.MissMm - Dot(row.Factors, change))];
            Dictionary<Kind, double> errors = rows.Select(row => row.Kind).Distinct()
                .ToDictionary(kind => kind, kind => Math.Max(leastErrorMm, few * Scatter(rows, residuals, kind)));
            for (int i = 0; i < rows.Count; i++)
                weights[i] = Weight(errors[rows[i].Kind]) * Robust.Biweight(residuals[i], Robust.UsualReach * errors[rows[i].Kind]);
            change = LeastSquares.SolveWeighted(all, targets, weights);
        }

        // Cells that are off all together are burned elsewhere, or are not this plan's: they say nothing of a bow.
        if (Math.Max(Math.Abs(change[ShiftX]), Math.Abs(change[ShiftY])) > 3 * UsualShiftMm) return null;
        return basis.Moved(change, LeastSquares.CovarianceOf(all, weights, [RiseX, RiseY, Twist]), rows.Count(row => row.Cell is not null));

        static double[] Prior(int unknown)
        {
            double[] row = new double[Unknowns];
            row[unknown] = 1;
            return row;
        }

        static double Weight(double error) => 1 / (error * error);
    }

    /// <summary>
    /// Standard deviation of places as if each were independent. Grain shifts neighbours together: how much less than
    /// independent places a row or column averages out is told by the scatter of its means. A marker's four corners count as one,
    /// since the pose takes up whatever they share.
    /// </summary>
    private static double Scatter(List<MissRow> rows, double[] residuals, Kind kind)
    {
        (Cell? Cell, double Value)[] own = [.. rows.Zip(residuals).Where(pair => pair.First.Kind == kind)
            .Select(pair => (pair.First.Cell, pair.Second))];
        double scatter = Robust.Deviation(own.Select(place => place.Value));
        return kind == Kind.Marker ? 2 * scatter : scatter * Math.Sqrt(Alike(place => place.Row) * Alike(place => place.Column));

        double Alike(Func<Cell, int> line)
        {
            double[][] lines = [.. own.GroupBy(place => line(place.Cell!), place => place.Value).Select(values => values.ToArray())];
            return Math.Max(1, lines.Average(values => values.Length * Math.Pow(values.Average(), 2)) / Math.Max(1e-12, scatter * scatter));
        }
    }

    private static double Dot(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();

    /// <summary>A place held against where it should be: how each unknown would move it, and how far it is off, mm.</summary>
    private readonly record struct MissRow(double[] Factors, double MissMm, Kind Kind, Cell? Cell);

    /// <summary>What a place is of.</summary>
    private enum Kind
    {
        Marker,
        CellX,
        CellY,
    }

    /// <summary>A solution.</summary>
    /// <param name="Pose">The pose, the surface in it once it is believed.</param>
    /// <param name="Surface">The surface.</param>
    /// <param name="BleedMm">How far marker edges stand outside their plan.</param>
    /// <param name="Covariance">Of rises and twist, mm²; null before the first step.</param>
    /// <param name="Places">Number of places of cells that it rests on.</param>
    private sealed record Fit(CardPose Pose, BowedSurface Surface, double BleedMm, double[,]? Covariance, int Places)
    {
        /// <summary>
        /// True where chance hardly gives such a bow, and it explains more of the places than it leaves: otherwise a
        /// correction is worth nothing.
        /// </summary>
        public bool IsCertain
        {
            get
            {
                double[] bow = [Surface.RiseXMm, Surface.RiseYMm, Surface.TwistMm];
                return Dot(bow, LeastSquares.SolveSymmetric(Covariance!, bow)) > Math.Max(CertainChiSquared, Places);
            }
        }

        public CardBow Told(bool isCorrected) => new()
        {
            RiseXMm = Measured.Of(Surface.RiseXMm, Math.Sqrt(Covariance![0, 0])),
            RiseYMm = Measured.Of(Surface.RiseYMm, Math.Sqrt(Covariance[1, 1])),
            IsCorrected = isCorrected,
        };
    }

    /// <summary>How the unknowns move places on the card, about a solution.</summary>
    private sealed class Basis(Fit from)
    {
        private const double LensStep = 0.01;

        private readonly CardPose _lensMoved =
            new(from.Pose.ToIdeal, from.Pose.Lens with { K1 = from.Pose.Lens.K1 + LensStep }, from.Pose.Bow);
        private readonly BowedSurface _flat = from.Surface with { RiseXMm = 0, RiseYMm = 0, TwistMm = 0 };

        public double[] AlongX(PlanePoint at, int own, double factor) => Factors(at, own, factor, isX: true);

        public double[] AlongY(PlanePoint at, int own, double factor) => Factors(at, own, factor, isX: false);

        /// <summary>The solution moved by the unknowns' changes.</summary>
        public Fit Moved(double[] change, double[,] covariance, int places)
        {
            // The eight changes of the plane, exactly: a homography through four places that they move.
            PlanePoint[] corners = [new(-1, -1), new(1, -1), new(1, 1), new(-1, 1)], marks = [.. corners.Select(_flat.At)];
            Homography moved = Homography.Fit(marks,
                [.. marks.Select(mark => mark + new PlanePoint(Plane(mark, change, true), Plane(mark, change, false)))]);
            BowedSurface surface = from.Surface with
            {
                RiseXMm = from.Surface.RiseXMm + change[RiseX],
                RiseYMm = from.Surface.RiseYMm + change[RiseY],
                TwistMm = from.Surface.TwistMm + change[Twist],
            };
            CardPose pose = new(from.Pose.ToIdeal.After(moved), from.Pose.Lens with { K1 = from.Pose.Lens.K1 + change[Lens] }, surface);
            return new(pose, surface, from.BleedMm + change[Bleed], covariance, places);
        }

        private double[] Factors(PlanePoint at, int own, double factor, bool isX)
        {
            double[] row = new double[Unknowns];
            PlaneFactors(at, isX).CopyTo(row, 0);
            PlanePoint lens = from.Pose.ToCard(_lensMoved.ToPhoto(at)) - at;
            row[Lens] = (isX ? lens.X : lens.Y) / LensStep;
            row[own] = factor;
            row[RiseX] = Along(_flat with { RiseXMm = 1 });
            row[RiseY] = Along(_flat with { RiseYMm = 1 });
            row[Twist] = Along(_flat with { TwistMm = 1 });
            return row;

            double Along(BowedSurface unit) => isX ? unit.OntoPlane(at).X - at.X : unit.OntoPlane(at).Y - at.Y;
        }

        private double Plane(PlanePoint at, double[] change, bool isX) => Dot(PlaneFactors(at, isX), change);

        /// <summary>Shift, stretch, turn and the two slants of the plane: the first order of a homography.</summary>
        private double[] PlaneFactors(PlanePoint at, bool isX)
        {
            (double u, double v) = (_flat.Across(at).X, _flat.Across(at).Y);
            PlanePoint half = _flat.Half;
            return isX ? [1, u, v, 0, 0, 0, u * u * half.X, u * v * half.X] : [0, 0, 0, 1, u, v, u * v * half.Y, v * v * half.Y];
        }
    }
}
