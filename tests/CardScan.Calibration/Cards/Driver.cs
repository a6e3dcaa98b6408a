namespace CardScan.Calibration;

/// <summary>What a laser's driver makes of the power that it is told, both in percent of full.</summary>
/// <param name="DeadPercent">No light up to here; linear above, and full at 100.</param>
/// <param name="LevelPercent">Power that it never passes; it bends towards it. Null: it stays linear.</param>
internal sealed record Driver(double DeadPercent = 0, double? LevelPercent = null)
{
    public static Driver Linear { get; } = new();

    public double Effective(double powerPercent)
    {
        double lit = Math.Max(0, powerPercent - DeadPercent) * 100 / (100 - DeadPercent);
        return LevelPercent is { } level ? level * Math.Tanh(lit / level) : lit;
    }
}
