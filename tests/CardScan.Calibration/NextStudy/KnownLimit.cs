using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>A boundary as it is stated at one speed.</summary>
/// <param name="HalfWidth">Half width of its 95 % interval, in ln power.</param>
/// <param name="Error">Stated less true, in ln power; null where no power does by the law.</param>
internal sealed record KnownLimit(double HalfWidth, double? Error)
{
    /// <summary>
    /// The limit at a speed, between the stated points by ratio; null where there is none, or the speed lies outside of them.
    /// </summary>
    public static KnownLimit? At(Reading scored, TrueCard truth, double speedMmPerMin)
    {
        BoundaryPoint[] points =
        [
            .. (scored.Boundary ?? []).Where(point => point.Goal == truth.Goal && point.Low > 0 && double.IsFinite(point.High))
                .OrderBy(point => point.SpeedMmPerMin),
        ];
        BoundaryPoint? below = points.LastOrDefault(point => point.SpeedMmPerMin <= speedMmPerMin);
        BoundaryPoint? above = points.FirstOrDefault(point => point.SpeedMmPerMin >= speedMmPerMin);
        if (below is null || above is null) return null;

        double part = below == above
            ? 0
            : Math.Log(speedMmPerMin / below.SpeedMmPerMin) / Math.Log(above.SpeedMmPerMin / below.SpeedMmPerMin);
        double power = Between(point => point.PowerPercent), low = Between(point => point.Low), high = Between(point => point.High);
        return new((high - low) / 2, power - (truth.BoundaryPower(speedMmPerMin) is { } least ? Math.Log(least) : null));

        double Between(Func<BoundaryPoint, double> valueOf) => (1 - part) * Math.Log(valueOf(below)) + part * Math.Log(valueOf(above));
    }
}
