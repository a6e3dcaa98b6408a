using System.Text.Json.Serialization;

namespace CardScan.Model;

/// <summary>A measured value with its standard error, both in the unit of the field that holds it.</summary>
/// <param name="Value">The value.</param>
/// <param name="StandardError">One standard error, zero or greater.</param>
public sealed record Measured(double Value, double StandardError) : Extensible
{
    /// <summary>The value rounded to a hundredth of its standard error: further digits say nothing.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite, or the error is negative.</exception>
    public static Measured Of(double value, double standardError)
    {
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), value, "A measured value is finite.");
        if (!(standardError >= 0) || !double.IsFinite(standardError))
            throw new ArgumentOutOfRangeException(nameof(standardError), standardError, "A standard error is finite and not negative.");
        if (standardError == 0) return new(value, 0);

        int digits = Math.Clamp(2 - (int)Math.Floor(Math.Log10(standardError)), 0, 15);
        return new(Math.Round(value, digits), Math.Round(standardError, digits));
    }
}

/// <summary>A 95 % interval.</summary>
/// <param name="Quantity">What the interval is of, e.g. <c>markStrength</c>.</param>
/// <param name="Value">Best estimate.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
public sealed record Interval(string Quantity, double Value, double Low, double High) : Extensible;

/// <summary>A point of the picture, px: [x, y], the centre of the top left pixel at (0, 0).</summary>
/// <param name="X">Right, px.</param>
/// <param name="Y">Down, px.</param>
[JsonConverter(typeof(PixelPointConverter))]
public sealed record PixelPoint(double X, double Y);
