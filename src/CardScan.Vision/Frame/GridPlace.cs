namespace CardScan.Vision;

/// <summary>Where the grid lies on the sheet: shifted, turned and scaled against its planned place.</summary>
/// <remarks>
/// A piece parallel to the sheet at another height is seen on the sheet's plane through a homothety about the point below
/// the lens, whatever the tilt. So a similarity holds shift, turn, thickness and the printer's scale without a rest.
/// </remarks>
/// <param name="Centre">Middle of the planned grid, mm; it is turned and scaled about here.</param>
/// <param name="Offset">Shift of that middle, mm of the sheet.</param>
/// <param name="TurnRad">Clockwise positive, y being down.</param>
/// <param name="Scale">Millimetres of the sheet a planned millimetre.</param>
internal sealed record GridPlace(PlanePoint Centre, PlanePoint Offset, double TurnRad, double Scale)
{
    /// <summary>The sheet's point of a planned point, mm.</summary>
    public PlanePoint ToSheet(PlanePoint plannedMm) => Centre + Offset + Turned(plannedMm - Centre);

    /// <summary>The place that the grid has when it is shifted by so much in its own directions, planned mm.</summary>
    public GridPlace Shifted(PlanePoint plannedMm) => this with { Offset = Offset + Turned(plannedMm) };

    /// <summary>The way from a planned millimetre, counted from another origin, to the photo.</summary>
    public CardPose On(CardPose sheet, PlanePoint originMm)
    {
        PlanePoint origin = ToSheet(originMm), across = Turned(new(1, 0)), down = Turned(new(0, 1));
        return new(sheet.ToIdeal.After(new Homography([across.X, down.X, origin.X, across.Y, down.Y, origin.Y, 0, 0])), sheet.Lens);
    }

    private PlanePoint Turned(PlanePoint mm)
    {
        double cos = Scale * Math.Cos(TurnRad), sin = Scale * Math.Sin(TurnRad);
        return new(cos * mm.X - sin * mm.Y, sin * mm.X + cos * mm.Y);
    }
}
