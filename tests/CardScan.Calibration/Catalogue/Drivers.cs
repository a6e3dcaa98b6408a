namespace CardScan.Calibration;

/// <summary>Drawn drivers.</summary>
internal static class Drivers
{
    public static Driver DeadZone(Chance chance) => new(DeadPercent: chance.Between(5, 20));

    public static Driver Levelling(Chance chance) => new(LevelPercent: chance.Between(60, 110));
}
