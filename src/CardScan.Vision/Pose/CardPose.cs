namespace CardScan.Vision;

/// <summary>Where the card lies in the photo: the way from a millimetre of the card to a pixel and back.</summary>
internal sealed class CardPose
{
    private readonly Homography _toIdeal;
    private readonly Homography _fromIdeal;
    private readonly RadialDistortion _lens;

    public CardPose(Homography toIdeal, RadialDistortion lens, BowedSurface? bow = null)
    {
        _toIdeal = toIdeal;
        _fromIdeal = toIdeal.Inverse();
        _lens = lens;
        Bow = bow;
    }

    /// <summary>From the card (mm) to the ideal image plane (px), before the lens distorts it.</summary>
    public Homography ToIdeal => _toIdeal;

    /// <summary>The lens.</summary>
    public RadialDistortion Lens => _lens;

    /// <summary>How the card is bowed; null for a flat one.</summary>
    public BowedSurface? Bow { get; }

    /// <summary>The photo's pixel of a point of the card.</summary>
    public PlanePoint ToPhoto(PlanePoint cardMm) => _lens.Distort(_toIdeal.Map(Bow?.OntoPlane(cardMm) ?? cardMm));

    /// <summary>The card's point of a photo's pixel.</summary>
    public PlanePoint ToCard(PlanePoint photoPx)
    {
        PlanePoint plane = _fromIdeal.Map(_lens.Undistort(photoPx));
        return Bow?.OffPlane(plane) ?? plane;
    }

    /// <summary>Pixels per millimetre along the card's x and y at a point.</summary>
    public (double X, double Y) ScaleAt(PlanePoint cardMm)
    {
        const double reach = 0.5;
        double x = ToPhoto(cardMm + new PlanePoint(reach, 0)).DistanceTo(ToPhoto(cardMm - new PlanePoint(reach, 0)));
        double y = ToPhoto(cardMm + new PlanePoint(0, reach)).DistanceTo(ToPhoto(cardMm - new PlanePoint(0, reach)));
        return (x, y);
    }
}
