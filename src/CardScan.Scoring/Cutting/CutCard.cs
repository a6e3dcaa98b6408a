using CardScan.Model;

namespace CardScan.Scoring.Cutting;

/// <summary>Which way a side runs: the beam of a diode is no circle, so the two differ.</summary>
internal enum CutDirection
{
    /// <summary>Top and bottom sides, cut along x.</summary>
    AlongX,

    /// <summary>Left and right sides, cut along y.</summary>
    AlongY,
}

/// <summary>One judged side of a cut cell.</summary>
/// <param name="Direction">Which way it runs.</param>
/// <param name="IsThrough">
/// True where it is through, as its state says. A side that is open along nine tenths of its length still holds the piece.
/// </param>
/// <param name="OpenFraction">Share of its judged length that is open, 0 to 1.</param>
/// <param name="Weight">Share of its length that was judged, 0 to 1.</param>
internal sealed record CutSide(CutDirection Direction, bool IsThrough, double OpenFraction, double Weight)
{
    /// <summary>
    /// A side is called open with up to a tenth of its length unknown, and tabs shorten the rest: less was not seen
    /// through along the whole.
    /// </summary>
    private const double LeastSeenThrough = 0.8;

    /// <summary>A held side that is open along this share of its length hangs on little.</summary>
    private const double MostlyOpenFraction = 0.85;

    /// <summary>Longest stretch that holds it, mm; null where not measured.</summary>
    public double? LongestBridgeMm { get; init; }

    /// <summary>
    /// True where the card's other sides show that its dose was enough; told only where some side is
    /// <see cref="IsMostlyOpen"/>.
    /// </summary>
    public bool HasDoseEnough { get; init; }

    /// <summary>
    /// Share of the side that tells of the least dose a cut needs, 0 to 1: less where something else than too little energy
    /// may have held it, or may have opened it (<see cref="MixedCauses"/>).
    /// </summary>
    public double FastVote { get; init; } = 1;

    /// <summary>
    /// Share of the side that tells of where a cut closes again, 0 to 1; of use only where the card
    /// <see cref="CutCard.ClosesAgain"/>.
    /// </summary>
    public double SlowVote { get; init; } = 1;

    /// <summary>True where it is through, and enough of it was judged to rely on that.</summary>
    public bool IsSeenThrough => IsThrough && Weight >= LeastSeenThrough;

    /// <summary>True where it is held, but along little of its length: short of dose by a little, or held by something else.</summary>
    public bool IsMostlyOpen => !IsThrough && OpenFraction >= MostlyOpenFraction;

    /// <summary>True where it is held by a short bridge that dose does not cure (<see cref="Bridges"/>).</summary>
    public bool IsBridged => IsMostlyOpen && HasDoseEnough;
}

/// <summary>A cut cell with at least one judged side.</summary>
/// <param name="Address">Place in the grid.</param>
/// <param name="Settings">What it was cut with.</param>
/// <param name="Sides">Its judged sides.</param>
/// <param name="HaloMm">Char beside the cut, mm; null where not measured.</param>
internal sealed record CutCell(CellAddress Address, CellSettings Settings, ValueList<CutSide> Sides, double? HaloMm)
{
    /// <summary>Which card it stands on: 0 is the reading's own, others are joined with it.</summary>
    public int Card { get; init; }

    /// <summary>True where all four sides were judged and are through.</summary>
    public bool IsSeenThrough => Sides.Count == 4 && Sides.All(side => side.IsSeenThrough);

    /// <summary>True where some judged side is held.</summary>
    public bool IsSeenHeld => Sides.Any(side => !side.IsThrough);

    /// <summary>True where some judged side is held by more than a short bridge.</summary>
    public bool IsHeldFirmly => Sides.Any(side => !side.IsThrough && !side.IsBridged);

    /// <summary>True where other settings give at least as much power, time and passes, at the same focus.</summary>
    public bool HasNoMoreDoseThan(CellSettings other) =>
        Settings.PowerPercent <= other.PowerPercent && Settings.SpeedMmPerMin >= other.SpeedMmPerMin
        && Settings.Passes <= other.Passes && Settings.FocusOffsetMm == other.FocusOffsetMm;

    /// <summary>The sides that tell of the dose: those that are not held by a bridge.</summary>
    public IEnumerable<CutSide> DoseSides => Sides.Where(side => !side.IsBridged);

    /// <summary>Sides of which less than this share tells of either end of the cut fit neither.</summary>
    private const double LeastVote = 0.1;

    /// <summary>True where none of its sides tells of the energy of a cut: a knot, a line of glue, a crack.</summary>
    public bool FitsNothing =>
        Sides.All(side => side.IsBridged || (side.FastVote < LeastVote && side.SlowVote < LeastVote)) && Sides.Any(side => !side.IsBridged);

    /// <summary>Its setting as the model sees it.</summary>
    public CutPoint Point { get; } =
        new(Math.Log(Settings.PowerPercent), Math.Log(Settings.SpeedMmPerMin), Math.Log(Settings.Passes), Settings.FocusOffsetMm);

    /// <summary>ln of its line energy, up to the card's watts.</summary>
    public double LnEnergy => Point.LnPower + Point.LnPasses - Point.LnSpeed;

    /// <summary>Seconds for a metre of cut.</summary>
    public double SecondsPerMetre => 1000 * UnitBurnTime.SecondsPerMm(Settings);
}

/// <summary>The judged cells of a cut card.</summary>
internal sealed record CutCard(ValueList<CutCell> Cells)
{
    /// <summary>True where cells with the most energy, or the slowest ones, are held again: the window of settings has two ends.</summary>
    public bool ClosesAgain { get; init; }

    /// <summary>
    /// True where chance may have held just these cells: then they count as held anyway as well, to be careful on both sides.
    /// </summary>
    public bool IsEndDoubtful { get; init; }

    /// <summary>True where some sides are through and some are held: else the card shows no limit.</summary>
    public bool IsMixed => Cells.Any(cell => cell.IsSeenHeld) && Cells.Any(cell => cell.Sides.Any(side => side.IsThrough));

    /// <summary>A side of which less was judged says nothing.</summary>
    private const double LeastSeen = 0.05;

    public static CutCard Of(Reading reading) => MixedCauses.ToldApartOn(Bridges.MarkedOn(new(
        reading.Cells
            .Where(cell => cell.Sides is not null && cell.Settings is { PowerPercent: > 0, SpeedMmPerMin: > 0, Passes: > 0 }
                && !cell.Flags.Contains(CellFlag.OutOfFrame) && !cell.Flags.Contains(CellFlag.Outlier))
            .Select(cell => new CutCell(new(cell.Row, cell.Column), cell.Settings, SidesOf(cell.Sides!), cell.HaloMm?.Value))
            .Where(cell => cell.Sides.Count > 0)
            .ToValueList())));

    /// <summary>True where a cell with the most energy of all that were burned is among the judged.</summary>
    public bool HasStrongestOf(Reading reading)
    {
        return Cells.Max(cell => Energy(cell.Settings)) >= 0.999 * reading.Cells.Max(cell => Energy(cell.Settings));

        static double Energy(CellSettings settings) => settings.PowerPercent * settings.Passes / settings.SpeedMmPerMin;
    }

    /// <summary>The same card, had some cells not been judged.</summary>
    public CutCard Without(IReadOnlyCollection<CutCell> cells) =>
        this with { Cells = Cells.Where(cell => !cells.Contains(cell)).ToValueList() };

    /// <summary>The same card with other sides; cells without any are gone.</summary>
    public CutCard WithSides(Func<CutCell, IEnumerable<CutSide>, IEnumerable<CutSide>> change) => this with
    {
        Cells = Cells.Select(cell => cell with { Sides = change(cell, cell.Sides).ToValueList() })
            .Where(cell => cell.Sides.Count > 0).ToValueList(),
    };

    private static ValueList<CutSide> SidesOf(Sides sides) =>
        ((CutSide?[])[Judged(sides.Left, CutDirection.AlongY), Judged(sides.Right, CutDirection.AlongY),
            Judged(sides.Top, CutDirection.AlongX), Judged(sides.Bottom, CutDirection.AlongX)])
        .OfType<CutSide>().ToValueList();

    private static CutSide? Judged(SideReading side, CutDirection direction)
    {
        double seen = side.SeenFraction ?? 1;
        if (side.State == SideState.Unseen || !(seen >= LeastSeen)) return null;
        // The state decides: a reader knows of bridges too short to show in the share.
        bool isThrough = side.State == SideState.Open;
        double open = side.OpenFraction is { } share && double.IsFinite(share) ? Math.Clamp(share, 0, 1) : isThrough ? 1 : 0;
        return new(direction, isThrough, open, Math.Min(seen, 1)) { LongestBridgeMm = side.LongestBridgeMm };
    }
}
