namespace CardScan.Calibration;

/// <summary>Drawn fields and gaps.</summary>
internal static class Fields
{
    /// <summary>Share of the dose that the weaker corner loses.</summary>
    public const double CornerLostShare = 0.25;

    /// <summary>8 to 20 % of dose from one edge of the card to the other.</summary>
    public static PlaceField Tilt(Chance chance) => new TiltField(chance.Between(0, 2 * Math.PI), chance.Between(0.08, 0.2));

    /// <summary>8 to 20 % of dose lost in the corners.</summary>
    public static PlaceField Bowl(Chance chance) => new BowlField(chance.Between(0.08, 0.2));

    public static PlaceField Corner(Chance chance) => new CornerField(chance.Toss(), chance.Toss(), CornerLostShare);

    /// <summary>20 to 30 % of dose lost at one side.</summary>
    public static PlaceField Bed(Chance chance) => new BedField(chance.Toss(), chance.Toss(), chance.Between(0.2, 0.3));

    /// <summary>3 to 8 % of the mark.</summary>
    public static PlaceField StripesOfMark(Chance chance) => Stripes(chance, ofMark: true);

    /// <summary>3 to 8 % of the dose.</summary>
    public static PlaceField StripesOfDose(Chance chance) => Stripes(chance, ofMark: false);

    /// <summary>One row or column in five is not seen, at least one of either; never so many that fewer than two are left.</summary>
    public static Gaps Missing(Grid grid, Chance chance) =>
        new(Some(grid.SpeedsMmPerMin.Length, chance), Some(grid.PowersPercent.Length, chance));

    private static int[] Some(int count, Chance chance)
    {
        int missing = Math.Clamp((int)Math.Round(count * 0.2), 1, count - 2);
        return [.. Enumerable.Range(0, count).Select(i => (Index: i, Lot: chance.Uniform()))
            .OrderBy(one => one.Lot).Take(missing).Select(one => one.Index)];
    }

    private static StripedField Stripes(Chance chance, bool ofMark) => new(chance.Toss(), chance.Between(0.03, 0.08), ofMark);
}
