namespace CardScan.Robustness;

/// <summary>A function of the card's place, worked out once on a fine net: the renderer asks for it some million times.</summary>
internal sealed class LightMap
{
    private const double StepMm = 0.15, FromMm = -10, WidthMm = 140, HeightMm = 120;
    private const int Columns = (int)(WidthMm / StepMm), Rows = (int)(HeightMm / StepMm);

    private readonly float[] _values = new float[Columns * Rows];

    /// <summary>The net of a function; beyond 10 mm outside the card it keeps the value of the net's edge.</summary>
    public static LightMap Of(Func<double, double, double> value)
    {
        LightMap map = new();
        for (int row = 0; row < Rows; row++)
            for (int column = 0; column < Columns; column++)
                map._values[row * Columns + column] = (float)value(FromMm + StepMm * column, FromMm + StepMm * row);
        return map;
    }

    /// <summary>The value at a place, interpolated.</summary>
    public double At(double xMm, double yMm)
    {
        double x = Math.Clamp((xMm - FromMm) / StepMm, 0, Columns - 1.001), y = Math.Clamp((yMm - FromMm) / StepMm, 0, Rows - 1.001);
        int left = (int)x, top = (int)y, at = top * Columns + left;
        double fx = x - left, fy = y - top;
        return (1 - fy) * (_values[at] + fx * (_values[at + 1] - _values[at]))
            + fy * (_values[at + Columns] + fx * (_values[at + Columns + 1] - _values[at + Columns]));
    }
}
