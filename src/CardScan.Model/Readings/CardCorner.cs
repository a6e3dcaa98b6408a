namespace CardScan.Model;

/// <summary>A corner marker of a card in a photo: where it is seen, or where it should be.</summary>
/// <param name="Place">0 top left, 1 top right, 2 bottom right, 3 bottom left of the card.</param>
/// <param name="X">Its middle, as a share of the upright photo's width; below 0 or above 1 where it is outside the picture.</param>
/// <param name="Y">Its middle, as a share of the height.</param>
/// <param name="IsFound">True where the marker was found.</param>
public sealed record CardCorner(int Place, double X, double Y, bool IsFound);
