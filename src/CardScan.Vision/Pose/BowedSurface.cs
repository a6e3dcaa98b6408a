using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// A card that is bowed: a surface of second order about the plane that its markers lie in on average, as the lens sees it.
/// </summary>
/// <remarks>
/// With u and v from −1 to 1 across the card, its height over that plane is −(riseX u² + riseY v² + twist u v), less its mean
/// over the markers; a plane added to it would change the pose and nothing else. The lens sees a point at height z where the
/// ray through it meets the plane, (p − c) z / (c_z − z) farther from the foot of the lens: nothing right below it, most aslant.
/// </remarks>
internal sealed record BowedSurface
{
    private readonly double _levelX, _levelY;
    private readonly (double X, double Y, double Z) _lens;

    /// <param name="plan">The card and its markers.</param>
    /// <param name="lens">Where the lens stood, mm in the card frame.</param>
    public BowedSurface(Plan plan, (double X, double Y, double Z) lens)
    {
        Half = new(plan.Card.WidthMm / 2, plan.Card.HeightMm / 2);
        _lens = lens;
        double half = plan.Fiducials.SideMm / 2;
        PlanePoint[] markers = [.. plan.Fiducials.Markers.Select(marker => Across(new(marker.XMm + half, marker.YMm + half)))];
        (_levelX, _levelY) = (markers.Average(marker => marker.X * marker.X), markers.Average(marker => marker.Y * marker.Y));
    }

    /// <summary>Half of the card's width and height, mm.</summary>
    public PlanePoint Half { get; }

    /// <summary>How far the card's middle stands over the line between its left and right edges, towards the lens, mm.</summary>
    public double RiseXMm { get; init; }

    /// <summary>The same between its upper and lower edges, mm.</summary>
    public double RiseYMm { get; init; }

    /// <summary>How far two opposite corners stand under the other two's mean, halved, mm.</summary>
    public double TwistMm { get; init; }

    /// <summary>The place from −1 to 1 across the card.</summary>
    public PlanePoint Across(PlanePoint cardMm) => new(cardMm.X / Half.X - 1, cardMm.Y / Half.Y - 1);

    /// <summary>The place on the card, mm, of one from −1 to 1; inverse of <see cref="Across"/>.</summary>
    public PlanePoint At(PlanePoint across) => new((across.X + 1) * Half.X, (across.Y + 1) * Half.Y);

    /// <summary>Where the plane is when the lens sees a point of the card before it, mm.</summary>
    public PlanePoint OntoPlane(PlanePoint cardMm) => cardMm + Shift(cardMm);

    /// <summary>The point of the card that hides a point of the plane; inverse of <see cref="OntoPlane"/>.</summary>
    public PlanePoint OffPlane(PlanePoint planeMm)
    {
        // A bow of some millimetres shifts by tenths, and changes that little from place to place: this converges at once.
        PlanePoint card = planeMm;
        for (int i = 0; i < 8; i++) card = planeMm - Shift(card);
        return card;
    }

    private PlanePoint Shift(PlanePoint cardMm)
    {
        PlanePoint at = Across(cardMm);
        double height = -(RiseXMm * (at.X * at.X - _levelX) + RiseYMm * (at.Y * at.Y - _levelY) + TwistMm * at.X * at.Y);
        return (cardMm - new PlanePoint(_lens.X, _lens.Y)) * (height / (_lens.Z - height));
    }
}
