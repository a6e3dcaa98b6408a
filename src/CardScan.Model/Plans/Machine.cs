using System.Globalization;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;

namespace CardScan.Model;

/// <summary>How the beam's power behaves while the machine gains and loses speed.</summary>
public enum BeamMode
{
    /// <summary>The same power at any speed (M3): line ends get more dose unless the beam is switched on in full motion.</summary>
    Constant,

    /// <summary>Power in proportion to the speed of the moment (M4 where a controller knows a laser mode).</summary>
    FollowsSpeed,

    /// <summary>
    /// The same power at any speed, and the machine stands still wherever the beam is switched (M3 with the controller's laser
    /// mode off): every line is burned from rest to rest.
    /// </summary>
    FromRest,
}

/// <summary>What switches the air assist.</summary>
public enum AirSwitch
{
    /// <summary>A hand.</summary>
    ByHand,

    /// <summary>The M7 word of the machine file.</summary>
    M7,

    /// <summary>The M8 word of the machine file.</summary>
    M8,
}

/// <summary>The machine that burns a card.</summary>
public sealed partial record Machine : Extensible
{
    /// <summary>Name, as the maker says it.</summary>
    public required string Name { get; init; }

    /// <summary>True where the name holds the watts already: they need not be told again.</summary>
    [JsonIgnore]
    public bool NamesItsWatts => Watts().Matches(Name).Any(match =>
        double.TryParse(match.Groups["number"].ValueSpan, CultureInfo.InvariantCulture, out double watts) && watts == RatedOpticalWatts);

    /// <summary>Optical power at 100 %, watts: what leaves the lens, not what the supply draws.</summary>
    public required double RatedOpticalWatts { get; init; }

    /// <summary>Wavelength, nm, 150 to 12 000.</summary>
    public double? WavelengthNm { get; init; }

    /// <summary>Where the beam can go, from the machine's zero to the right and away from the front.</summary>
    public CardSize? WorkArea { get; init; }

    /// <summary>Fastest safe feed, mm/min: no burning move is faster, and travels are taken to be as fast.</summary>
    public double? FastestFeedMmPerMin { get; init; }

    /// <summary>The S word that stands for full power, as the controller is set.</summary>
    public double? FullPowerS { get; init; }

    /// <summary>Whether power follows the speed; constant where absent.</summary>
    public BeamMode? BeamMode { get; init; }

    /// <summary>Beam width in the focus along x, mm.</summary>
    public double? BeamXMm { get; init; }

    /// <summary>Beam width in the focus along y, mm.</summary>
    public double? BeamYMm { get; init; }

    /// <summary>Acceleration of both axes, mm/s².</summary>
    public double? AccelerationMmPerS2 { get; init; }

    /// <summary>How far the head moves up and down by itself; absent where the focus is set by hand.</summary>
    public ZTravel? PoweredZ { get; init; }

    /// <summary>What switches the air assist; a hand where absent.</summary>
    public AirSwitch? AirSwitch { get; init; }

    [GeneratedRegex(@"(?<![0-9.,])(?<number>[0-9]{1,6}(?:\.[0-9]{1,3})?)\s?W\b", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Watts();
}

/// <summary>Where a powered Z axis may go; 0 is where the focus lies on the surface, up is positive.</summary>
public sealed record ZTravel : Extensible
{
    /// <summary>Lowest place, mm, 0 or less.</summary>
    public required double LowestMm { get; init; }

    /// <summary>Highest place, mm, 0 or more.</summary>
    public required double HighestMm { get; init; }
}

/// <summary>A machine kept in a file of its own (<c>cardscan-machine/1</c>).</summary>
/// <param name="Format"><see cref="CurrentFormat"/>.</param>
/// <param name="Machine">The machine.</param>
public sealed record MachineProfile(string Format, Machine Machine) : Extensible
{
    /// <summary>The format this version writes.</summary>
    public const string CurrentFormat = "cardscan-machine/1";
}
