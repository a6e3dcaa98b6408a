using System.Text.Json.Serialization;

namespace CardScan.Model;

/// <summary>Settings that give evenly spaced tones, for pictures: lightness steps equal in L*, all inside the card's range.</summary>
/// <remarks>Lightness is CIE 1976 L* with the bare material as the white: bare is 100, lighter than bare is more.</remarks>
public sealed record ToneScale : Extensible
{
    /// <summary>The setting that changes from tone to tone: power or speed; the other stays.</summary>
    public required Setting Setting { get; init; }

    /// <summary>Tones that were asked for. Fewer are given where neighbours could not be told apart.</summary>
    public required int StepsAsked { get; init; }

    /// <summary>The tones, from the weakest mark to the strongest; the first and the last span the usable range.</summary>
    public required ValueList<ToneStep> Steps { get; init; }

    /// <summary>L* over the setting that changes, as measured and as fitted, to be drawn.</summary>
    public required FittedCurve Curve { get; init; }

    /// <summary>True where tones are lighter than the bare material: L* ends at its white, so theirs is a relative lightness.</summary>
    [JsonIgnore]
    public bool IsLighterThanBare => Steps.Any(step => step.Lightness > 100);
}

/// <summary>One tone and the setting that burns it.</summary>
/// <param name="PowerPercent">Percent of full power.</param>
/// <param name="SpeedMmPerMin">Speed, mm/min.</param>
/// <param name="Lightness">Expected L*, bare material 100.</param>
/// <param name="Low">Lower limit of the interval that holds the L* of an area burned anew with 95 % probability.</param>
/// <param name="High">Upper limit of that interval.</param>
public sealed record ToneStep(double PowerPercent, double SpeedMmPerMin, double Lightness, double Low, double High) : Extensible;
