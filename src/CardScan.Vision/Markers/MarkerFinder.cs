using CardScan.Language;
using CardScan.Model;
using OpenCvSharp;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>A corner marker seen in the photo.</summary>
/// <param name="Place">0 top left, 1 top right, 2 bottom right, 3 bottom left of the card.</param>
/// <param name="Corners">Its corners in the photo, px, clockwise on the card from its own top left.</param>
internal sealed record SeenMarker(int Place, ValueList<PlanePoint> Corners);

/// <summary>The card's markers in the photo.</summary>
/// <param name="Markers">Three or four, by place.</param>
/// <param name="IsInverted">True where burning makes the material lighter.</param>
/// <param name="Warnings">What is doubtful.</param>
internal sealed record MarkerSet(ValueList<SeenMarker> Markers, bool IsInverted, ValueList<Warning> Warnings)
{
    /// <summary>The middles of the markers of other cards in the photo, px, with the cards' numbers.</summary>
    public ValueList<(int Card, PlanePoint Middle)> Others { get; init; } = [];
}

/// <summary>Finds the card's corner markers, to a few pixels; <see cref="MarkerRefiner"/> makes them exact.</summary>
/// <remarks>
/// The search runs on reduced pictures: no single scale finds every marker, so the scales' finds are united. Where some
/// are found, the others are first looked for where these say that they stand, in small cut-outs; only if that fails is
/// the whole picture searched at the next scale. Light marks on dark material are looked for in the negative picture,
/// because the detector's own switch for them spoils the corners of ordinary markers.
/// </remarks>
internal static class MarkerFinder
{
    /// <summary>
    /// Reductions of the picture, cheapest first, as it is and as a negative; charred markers are looked for last, where
    /// nothing else finds enough.
    /// </summary>
    private static readonly (int Reduction, bool IsNegative, MarkerSearch Search)[] Searches =
    [
        (8, false, MarkerSearch.Quick), (8, true, MarkerSearch.Quick), (4, false, MarkerSearch.Usual), (4, true, MarkerSearch.Usual),
        (8, false, MarkerSearch.Usual), (8, true, MarkerSearch.Usual),
        (2, false, MarkerSearch.Usual), (2, true, MarkerSearch.Usual), (4, false, MarkerSearch.Charred), (4, true, MarkerSearch.Charred),
        (2, false, MarkerSearch.Charred), (2, true, MarkerSearch.Charred),
    ];

    private static readonly int[] MirrorReductions = [4, 8];

    /// <summary>Markers that make a pose.</summary>
    private const int Enough = 3;

    /// <summary>Finds the markers of the plan's card.</summary>
    /// <param name="picture">The photo.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="seen">Those of its markers that were found, by place, whatever comes of it.</param>
    public static Outcome<MarkerSet> Find(Picture picture, Plan plan, out SeenMarker[] seen)
    {
        int cardNumber = plan.Number;
        Pyramid pyramid = picture.Reduced;
        Finds positive = new(), negative = new();
        foreach ((int reduction, bool isNegative, MarkerSearch search) in Searches)
        {
            if (isNegative && positive.CountOf(cardNumber) > 0) continue;
            Finds finds = isNegative ? negative : positive;
            bool isLast = search == MarkerSearch.Charred;
            if (!isLast || finds.CountOf(cardNumber) < Enough) finds.Add(pyramid.MarkersAt(reduction, isNegative, search), reduction);
            LookWhereTheyStand(picture, plan, finds, isNegative, isLast ? MarkerSearch.Charred : MarkerSearch.Usual);
            if (finds.CountOf(cardNumber) >= (isLast ? Enough : 4)) break;
        }

        bool isInverted = negative.CountOf(cardNumber) > positive.CountOf(cardNumber);
        Finds found = isInverted || positive.IsEmpty ? negative : positive;
        seen = found.Of(cardNumber);
        if (found.CountOf(cardNumber) == 0 && LooksMirrored(pyramid)) return Mirrored();
        return found.IsEmpty ? NoMarkers(picture, pyramid) : Judge(picture, plan, found, isInverted);
    }

    /// <summary>
    /// The numbers of the cards that are seen: for cards whose plans are not known yet.
    /// </summary>
    public static Outcome<ValueList<int>> CardNumbers(Picture picture)
    {
        Pyramid pyramid = picture.Reduced;
        Finds positive = new(), negative = new();
        foreach ((int reduction, bool isNegative, MarkerSearch search) in Searches)
        {
            Finds finds = isNegative ? negative : positive;
            finds.Add(pyramid.MarkersAt(reduction, isNegative, search), reduction);
            if (finds.HasGroup) return AllCards(pyramid, positive, negative, Math.Max(2, reduction / 2));
        }

        // One marker is chance or a stray one, unless the search with the plan finds its neighbours.
        int[] cards = [.. positive.Cards, .. negative.Cards];
        return cards.Length > 0 ? cards.ToValueList() : LooksMirrored(pyramid) ? Mirrored() : NoMarkers(picture, pyramid);
    }

    /// <summary>
    /// The cards that were found and those that lie beside them: smaller ones, or such as burn the other way. Beside a single card
    /// only the strips around it are searched, so that a photo of one, which fills the picture, takes hardly longer.
    /// </summary>
    /// <param name="pyramid">The picture.</param>
    /// <param name="positive">What was found in it.</param>
    /// <param name="negative">What was found in its negative.</param>
    /// <param name="reduction">Scale that the others are looked for at: a step finer than that of the first.</param>
    private static ValueList<int> AllCards(Pyramid pyramid, Finds positive, Finds negative, int reduction)
    {
        Mat grey = pyramid.At(reduction), inverse = pyramid.NegativeAt(reduction);
        Finds found = positive.HasGroup ? positive : negative;
        Rect whole = new(0, 0, grey.Width, grey.Height);
        Rect[] places = found.Groups.Count() > 1 ? [whole] : [.. Around(found.Frame(reduction) & whole, whole)];
        foreach (Rect place in places)
        {
            using Mat dark = new(grey, place), light = new(inverse, place);
            Point origin = new(place.X * reduction, place.Y * reduction);
            positive.Add(MarkerDetector.Detect(dark, MarkerSearch.Quick), reduction, origin);
            negative.Add(MarkerDetector.Detect(light, MarkerSearch.Quick), reduction, origin);
        }

        return positive.Groups.Concat(negative.Groups).Select(card => card.Key).Distinct().Order().ToValueList();
    }

    /// <summary>The strips of a picture on the four sides of a frame that are wide enough for a card.</summary>
    private static IEnumerable<Rect> Around(Rect frame, Rect whole)
    {
        // Two markers and as much between them, at three pixels a module of eight.
        const int least = 3 * 8 * 3;
        Rect[] strips =
        [
            new(0, 0, frame.Left, whole.Height), new(frame.Right, 0, whole.Width - frame.Right, whole.Height),
            new(frame.Left, 0, frame.Width, frame.Top), new(frame.Left, frame.Bottom, frame.Width, whole.Height - frame.Bottom),
        ];
        return strips.Where(strip => Math.Min(strip.Width, strip.Height) >= least);
    }

    /// <summary>Searches an empty picture.</summary>
    public static void Rehearse()
    {
        const int enoughPx = 256;
        using Picture empty = new(new BgrPixels(new Mat(enoughPx, enoughPx, MatType.CV_8UC3, Scalar.All(0))));
        _ = CardNumbers(empty);
    }

    /// <summary>Nothing was found: what the picture as a whole may tell about why.</summary>
    private static Refusal NoMarkers(Picture picture, Pyramid pyramid)
    {
        const double dark = 30;
        const int small = 1000;
        double level = Cv2.Mean(pyramid.At(8)).Val0;
        if (level < dark) return Refusal.OfPhoto(Codes.NoMarkers, ("why", "dark"), ("level", (int)Math.Round(level)));
        return Math.Max(picture.Width, picture.Height) < small
            ? Refusal.OfPhoto(Codes.NoMarkers, ("why", "small"), ("width", picture.Width), ("height", picture.Height))
            : Refusal.OfPhoto(Codes.NoMarkers);
    }

    /// <summary>Looks for missing markers in cut-outs at the places that the found ones give.</summary>
    private static void LookWhereTheyStand(Picture picture, Plan plan, Finds finds, bool isNegative, MarkerSearch search)
    {
        SeenMarker[] known = finds.Of(plan.Number);
        if (known.Length is 0 or 4) return;
        double side = plan.Fiducials.SideMm;
        Homography toPhoto = ToPhoto(plan, known);

        // One marker alone tells its neighbours' places only roughly, so its cut-outs are wide.
        double margin = (known.Length == 1 ? 1.5 : 0.5) * side;
        foreach (Marker missing in plan.Fiducials.Markers.Where((_, place) => known.All(marker => marker.Place != place)))
        {
            Rect frame = Cv2.BoundingRect(Square(missing, side, margin).Select(toPhoto.Map)
                .Select(p => new Point2f((float)p.X, (float)p.Y)));
            frame &= new Rect(0, 0, picture.Width, picture.Height);
            if (frame.Width < 8 || frame.Height < 8) continue;
            using Mat grey = picture.GreyOf(frame);
            if (isNegative) Cv2.BitwiseNot(grey, grey);
            using Mat half = new();
            Cv2.Resize(grey, half, new Size(frame.Width / 2, frame.Height / 2), 0, 0, InterpolationFlags.Area);
            finds.Add(MarkerDetector.Detect(half, search), 2, frame.Location);
            if (finds.CountOf(plan.Number) < 4) finds.Add(MarkerDetector.Detect(grey, search), 1, frame.Location);
        }
    }

    /// <summary>Roughly where places of the card lie in the photo, by the markers that were found.</summary>
    public static Homography ToPhoto(Plan plan, SeenMarker[] known) => Homography.Fit(
        [.. known.SelectMany(marker => Square(plan.Fiducials.Markers[marker.Place], plan.Fiducials.SideMm, 0))],
        [.. known.SelectMany(marker => marker.Corners)]);

    /// <summary>The corners of a marker on the card with a margin around it, mm, clockwise from its top left.</summary>
    public static IEnumerable<PlanePoint> Square(Marker marker, double sideMm, double marginMm)
    {
        double left = marker.XMm - marginMm, top = marker.YMm - marginMm, size = sideMm + 2 * marginMm;
        return [new(left, top), new(left + size, top), new(left + size, top + size), new(left, top + size)];
    }

    private static Outcome<MarkerSet> Judge(Picture picture, Plan plan, Finds finds, bool isInverted)
    {
        int cardNumber = plan.Number;
        if (finds.TwiceOf(cardNumber) is { } twice) return Refusal.OfPhoto(Codes.TwoCards, ("marker", twice));

        int[] others = finds.OtherCards(cardNumber);
        if (finds.CountOf(cardNumber) == 0)
            return Refusal.OfPhoto(Codes.OtherCard, ("count", others.Length), ("found", List(others)), ("planned", cardNumber));

        SeenMarker[] markers = finds.Of(cardNumber);
        int[] missing = [.. Enumerable.Range(0, 4).Except(markers.Select(marker => marker.Place))];
        if (markers.Length < Enough) return MissingMarkers.Describe(picture, plan, markers, missing);
        if (!IsConvex(markers)) return Refusal.OfPhoto(Codes.MarkersMisplaced);

        List<Warning> warnings = [];
        if (missing.Length > 0) warnings.Add(new(Codes.MarkerMissing, ("marker", MissingMarkers.NameOf(cardNumber, missing[0]))));
        if (others.FirstOrDefault(other => finds.CountOf(other) == 1, -1) is int stray and >= 0)
            warnings.Add(new(Codes.StrayMarker, ("card", stray)));
        return new MarkerSet(markers.ToValueList(), isInverted, warnings.ToValueList()) { Others = finds.MiddlesOfOthers(cardNumber) };
    }

    /// <summary>True when the markers decode only in the flipped picture: the card was photographed from behind, or mirrored.</summary>
    private static bool LooksMirrored(Pyramid pyramid)
    {
        foreach (int reduction in MirrorReductions)
        {
            using Mat flipped = new();
            Cv2.Flip(pyramid.At(reduction), flipped, FlipMode.Y);
            Finds finds = new();
            finds.Add(MarkerDetector.Detect(flipped, MarkerSearch.Usual), reduction);
            if (finds.IsEmpty)
            {
                Cv2.Flip(pyramid.NegativeAt(reduction), flipped, FlipMode.Y);
                finds.Add(MarkerDetector.Detect(flipped, MarkerSearch.Usual), reduction);
            }

            if (finds.HasGroup) return true;
        }

        return false;
    }

    private static Refusal Mirrored() => Refusal.OfPhoto(Codes.Mirrored);

    /// <summary>Centres in the card's order turn one way all around (clockwise in a picture whose y points down).</summary>
    private static bool IsConvex(SeenMarker[] markers)
    {
        PlanePoint[] centres = [.. markers.Select(marker => MiddleOf(marker.Corners))];
        return Enumerable.Range(0, centres.Length).All(i =>
        {
            PlanePoint a = centres[i], b = centres[(i + 1) % centres.Length], c = centres[(i + 2) % centres.Length];
            return (b.X - a.X) * (c.Y - b.Y) - (b.Y - a.Y) * (c.X - b.X) > 0;
        });
    }

    private static PlanePoint MiddleOf(IReadOnlyCollection<PlanePoint> corners) =>
        new(corners.Average(c => c.X), corners.Average(c => c.Y));

    /// <summary>Markers found, of any card; the finest scale's corners win.</summary>
    private sealed class Finds
    {
        private readonly Dictionary<int, (int Reduction, PlanePoint[] Corners)> _byId = [];
        private readonly HashSet<int> _twice = [];

        public bool IsEmpty => _byId.Count == 0;

        /// <summary>The markers of each card that is one: two make a card; one alone may be chance.</summary>
        public IEnumerable<IGrouping<int, int>> Groups => _byId.Keys.GroupBy(id => id / 4).Where(card => card.Count() >= 2);

        public bool HasGroup => Groups.Any();

        /// <summary>The cards of all markers, also of single ones.</summary>
        public IEnumerable<int> Cards => _byId.Keys.Select(id => id / 4).Distinct().Order();

        public int CountOf(int cardNumber) => _byId.Keys.Count(id => id / 4 == cardNumber);

        /// <summary>A marker of the card that stands at two places; null where none does.</summary>
        public int? TwiceOf(int cardNumber) => _twice.Where(id => id / 4 == cardNumber).Cast<int?>().Min();

        /// <summary>What all markers of a card that was found reach over, in the reduced picture, px.</summary>
        public Rect Frame(int reduction) => Cv2.BoundingRect(Groups.SelectMany(card => card).SelectMany(id => _byId[id].Corners)
            .Select(corner => new Point2f((float)(corner.X / reduction), (float)(corner.Y / reduction))));

        public ValueList<(int Card, PlanePoint Middle)> MiddlesOfOthers(int cardNumber) => Groups.Where(card => card.Key != cardNumber)
            .SelectMany(card => card.Select(id => (card.Key, MiddleOf(_byId[id].Corners)))).ToValueList();

        public int[] OtherCards(int cardNumber) => [.. Cards.Where(card => card != cardNumber)];

        public SeenMarker[] Of(int cardNumber) =>
            [.. _byId.Where(find => find.Key / 4 == cardNumber).OrderBy(find => find.Key)
                .Select(find => new SeenMarker(find.Key % 4, find.Value.Corners.ToValueList()))];

        public void Add(DetectedMarker[] seen, int reduction, Point origin = default)
        {
            foreach ((int id, Point2f[] corners) in seen)
            {
                Add(id, reduction, [.. corners.Select(c =>
                    new PlanePoint(origin.X + (c.X + 0.5) * reduction - 0.5, origin.Y + (c.Y + 0.5) * reduction - 0.5))]);
            }
        }

        private void Add(int id, int reduction, PlanePoint[] corners)
        {
            if (_byId.TryGetValue(id, out (int Reduction, PlanePoint[] Corners) known))
            {
                double side = known.Corners[0].DistanceTo(known.Corners[1]);
                if (known.Corners[0].DistanceTo(corners[0]) > side) _twice.Add(id);
                if (known.Reduction <= reduction) return;
            }

            _byId[id] = (reduction, corners);
        }
    }
}
