using CardScan.Language;

namespace CardScan.Model;

/// <summary>Width and height of a card or of a machine's work area, mm.</summary>
public sealed record CardSize : Extensible
{
    /// <summary>Width, mm.</summary>
    public required double WidthMm { get; init; }

    /// <summary>Height, mm.</summary>
    public required double HeightMm { get; init; }
}

/// <summary>The four corner markers.</summary>
public sealed record Fiducials : Extensible
{
    /// <summary>The one dictionary that is used: 6×6 bits, smallest Hamming distance 9.</summary>
    public const string OnlyDictionary = "DICT_6X6_1000";

    /// <summary>Name of the ArUco dictionary.</summary>
    public required string Dictionary { get; init; }

    /// <summary>Side of every marker, black border included, mm.</summary>
    public required double SideMm { get; init; }

    /// <summary>The markers: top left, top right, bottom right, bottom left.</summary>
    public required ValueList<Marker> Markers { get; init; }
}

/// <summary>One corner marker, upright on the card.</summary>
public sealed record Marker : Extensible
{
    /// <summary>Id in the dictionary; 4 × card number + 0 top left, 1 top right, 2 bottom right, 3 bottom left.</summary>
    public required int Id { get; init; }

    /// <summary>Left edge, mm.</summary>
    public required double XMm { get; init; }

    /// <summary>Top edge, mm.</summary>
    public required double YMm { get; init; }
}

/// <summary>An axis of the grid: one setting and its value in each column or row.</summary>
public sealed record Axis : Extensible
{
    /// <summary>The setting that changes along the axis.</summary>
    public required Setting Setting { get; init; }

    /// <summary>Its values, one a column or row.</summary>
    public required ValueList<double> Values { get; init; }
}

/// <summary>The settings that are the same in every cell; those of the two axes are absent.</summary>
public sealed record FixedSettings : Extensible
{
    /// <summary>Percent of full power.</summary>
    public double? PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public double? SpeedMmPerMin { get; init; }

    /// <summary>Passes; 1 where absent.</summary>
    public int? Passes { get; init; }

    /// <summary>Focus offset, mm, negative below the surface; 0 where absent.</summary>
    public double? FocusOffsetMm { get; init; }

    /// <summary>Line interval of fills, mm.</summary>
    public double? LineIntervalMm { get; init; }

    /// <summary>How much lower the focus goes with each further pass, mm, 0 to 20; it stays where absent.</summary>
    public double? FocusStepMm { get; init; }

    /// <summary>Rest between two passes over a cell, s, 0 to 600; none where absent.</summary>
    public double? PassPauseS { get; init; }

    /// <summary>Air assist; not known where absent.</summary>
    public AirAssist? AirAssist { get; init; }
}

/// <summary>Air blown along the beam while a card is burned.</summary>
public sealed record AirAssist : Extensible
{
    /// <summary>Whether it is on.</summary>
    public required bool IsOn { get; init; }

    /// <summary>How hard it blows, in the maker's words; absent where not said.</summary>
    public string? Pressure { get; init; }

    /// <summary>For a message: off, on, or on with its pressure.</summary>
    public Phrase ToFigure() => new("name.air", Figures.Known(("state", IsOn ? "on" : "off"), ("pressure", Figures.Text(Pressure))));
}

/// <summary>One rectangle of the grid.</summary>
public sealed record Cell : Extensible
{
    /// <summary>Row of the grid, from 0 at the top.</summary>
    public required int Row { get; init; }

    /// <summary>Column of the grid, from 0 at the left.</summary>
    public required int Column { get; init; }

    /// <summary>Left edge, mm.</summary>
    public required double XMm { get; init; }

    /// <summary>Top edge, mm.</summary>
    public required double YMm { get; init; }

    /// <summary>Width, mm.</summary>
    public required double WidthMm { get; init; }

    /// <summary>Height, mm.</summary>
    public required double HeightMm { get; init; }

    /// <summary>The lines of a focus ladder's cell; absent elsewhere.</summary>
    public ValueList<BurnedLine>? Lines { get; init; }

    /// <summary>Where the outline of a cut cell is left uncut, so that the piece inside stays; absent where it is cut all round.</summary>
    public ValueList<Tab>? Tabs { get; init; }
}
