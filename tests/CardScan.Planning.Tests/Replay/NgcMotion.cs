namespace CardScan.Planning.Tests;

/// <summary>A place of the head, mm.</summary>
internal readonly record struct Spot(double X, double Y, double Z)
{
    internal double DistanceTo(Spot other) => Math.Sqrt(Math.Pow(X - other.X, 2) + Math.Pow(Y - other.Y, 2) + Math.Pow(Z - other.Z, 2));
}

/// <summary>One straight move as the machine would make it.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends.</param>
/// <param name="IsRapid">True for G0.</param>
/// <param name="FeedMmPerMin">Feed; not used by rapid moves.</param>
/// <param name="S">The S word in force.</param>
/// <param name="Mode">3 or 4 while the spindle turns (the beam may burn), 5 while it does not.</param>
internal sealed record NgcMotion(Spot From, Spot To, bool IsRapid, double FeedMmPerMin, double S, int Mode)
{
    internal bool IsBurning => Mode != 5 && S > 0;

    internal double LengthMm => From.DistanceTo(To);
}

/// <summary>A program as it was run.</summary>
/// <param name="Motions">Every move in order.</param>
/// <param name="Pauses">Where the head was at each M0, and whether the beam was off.</param>
/// <param name="Messages">Operator messages.</param>
/// <param name="Comments">Other comments.</param>
/// <param name="ModeAtEnd">3, 4 or 5 just before the program ended.</param>
/// <param name="HasEnded">Whether M2 or M30 was reached, with nothing behind it.</param>
/// <param name="DwellsS">Every G4, s.</param>
/// <param name="Air">Every M7, M8 and M9, with how many moves came before it.</param>
internal sealed record NgcRun(
    IReadOnlyList<NgcMotion> Motions, IReadOnlyList<(Spot At, int Mode)> Pauses, IReadOnlyList<string> Messages,
    IReadOnlyList<string> Comments, int ModeAtEnd, bool HasEnded, IReadOnlyList<double> DwellsS, IReadOnlyList<(int Code, int After)> Air);
