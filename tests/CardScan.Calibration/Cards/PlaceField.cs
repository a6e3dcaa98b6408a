namespace CardScan.Calibration;

/// <summary>What a card's places change, whatever is burned there.</summary>
internal abstract record PlaceField
{
    /// <summary>The same everywhere.</summary>
    public static PlaceField None { get; } = new EvenField();

    /// <summary>Dose that arrives over the dose that is set.</summary>
    public virtual double DoseFactor(Place place) => 1;

    /// <summary>Mark over the mark that the dose makes elsewhere.</summary>
    public virtual double MarkFactor(Place place) => 1;

    private sealed record EvenField : PlaceField;
}

/// <summary>Dose that changes steadily across the card.</summary>
/// <param name="Direction">Where it grows, radians from x towards y.</param>
/// <param name="LnRange">ln dose gained over the card's width.</param>
internal sealed record TiltField(double Direction, double LnRange) : PlaceField
{
    public override double DoseFactor(Place place) =>
        Math.Exp(LnRange * ((place.X - 0.5) * Math.Cos(Direction) + (place.Y - 0.5) * Math.Sin(Direction)));
}

/// <summary>Dose that falls from the card's middle to its corners: a bowed sheet.</summary>
/// <param name="LnLost">ln dose lost at the corners.</param>
internal sealed record BowlField(double LnLost) : PlaceField
{
    public override double DoseFactor(Place place)
    {
        double x = 2 * place.X - 1, y = 2 * place.Y - 1;
        return Math.Exp(-LnLost * (x * x + y * y) / 2);
    }
}

/// <summary>Dose that falls smoothly towards one corner: a lens or a bed out of true.</summary>
/// <param name="IsRight">The corner lies right.</param>
/// <param name="IsBottom">The corner lies below.</param>
/// <param name="LostShare">Share of the dose that is lost in the corner itself.</param>
internal sealed record CornerField(bool IsRight, bool IsBottom, double LostShare) : PlaceField
{
    public override double DoseFactor(Place place) =>
        1 - LostShare * (IsRight ? place.X : 1 - place.X) * (IsBottom ? place.Y : 1 - place.Y);
}

/// <summary>A bed out of level: towards one side the focus is lost, and the beam widens with the square of the distance.</summary>
/// <param name="IsAlongX">True where it falls to the left or right, false where to the top or bottom.</param>
/// <param name="IsFarSide">Right or bottom.</param>
/// <param name="LostShare">Share of the dose that is lost at that side.</param>
internal sealed record BedField(bool IsAlongX, bool IsFarSide, double LostShare) : PlaceField
{
    public override double DoseFactor(Place place)
    {
        double along = IsAlongX ? place.X : place.Y, distance = IsFarSide ? along : 1 - along;
        return 1 - LostShare * distance * distance;
    }
}

/// <summary>Every other row or column comes out weaker: play of a belt, a beam that steers by direction.</summary>
/// <param name="IsByRow">Rows, or else columns.</param>
/// <param name="LostShare">Share that is lost.</param>
/// <param name="OfMark">Lost of the mark, or else of the dose.</param>
internal sealed record StripedField(bool IsByRow, double LostShare, bool OfMark) : PlaceField
{
    public override double DoseFactor(Place place) => OfMark ? 1 : Factor(place);

    public override double MarkFactor(Place place) => OfMark ? Factor(place) : 1;

    private double Factor(Place place) => (IsByRow ? place.Row : place.Column) % 2 == 0 ? 1 : 1 - LostShare;
}
