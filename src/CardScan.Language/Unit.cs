namespace CardScan.Language;

/// <summary>What a number in a message counts or measures; it decides how the number is rounded and what follows it.</summary>
public enum Unit
{
    /// <summary>A count, or a number without a unit.</summary>
    None,

    /// <summary>A number as somebody gave it, with all of its digits.</summary>
    Given,

    /// <summary>Speed, mm/min.</summary>
    MmPerMin,

    /// <summary>Speed, mm/s: how speeds are told where that is chosen; nothing else gives it.</summary>
    MmPerS,

    /// <summary>Percent of full power, 0 to 100.</summary>
    Percent,

    /// <summary>A share or a probability, 0 to 1; shown in percent.</summary>
    Share,

    /// <summary>Length, mm.</summary>
    Mm,

    /// <summary>Time, s; shown in minutes and hours where it is long.</summary>
    Seconds,

    /// <summary>Energy on an area, J/mm².</summary>
    JPerMm2,

    /// <summary>Energy on a line, J/mm.</summary>
    JPerMm,

    /// <summary>Energy, J.</summary>
    Joules,

    /// <summary>Power, W.</summary>
    Watts,

    /// <summary>Angle, degrees.</summary>
    Degrees,

    /// <summary>Length in a picture, pixels.</summary>
    Pixels,

    /// <summary>Scale of a picture, pixels for each millimetre.</summary>
    PxPerMm,

    /// <summary>Optical density.</summary>
    Density,

    /// <summary>Relative contrast, or another figure that is read to two decimals.</summary>
    Contrast,

    /// <summary>A factor, "1.12×".</summary>
    Factor,

    /// <summary>Wavelength, nm.</summary>
    Nm,

    /// <summary>Acceleration, mm/s².</summary>
    MmPerS2,

    /// <summary>Lightness, CIE L*.</summary>
    Lightness,

    /// <summary>Size of a file or of memory, bytes; shown in kB, MB or GB.</summary>
    Bytes,

    /// <summary>A length above (+) or below (−) something, mm.</summary>
    OffsetMm,

    /// <summary>A figure of a fitted model, without a unit; four digits.</summary>
    Statistic,
}

/// <summary>The unit in which speeds are told. Files hold them in mm/min, whatever is chosen.</summary>
public enum SpeedUnit
{
    /// <summary>Millimetres a minute, as in the files.</summary>
    MmPerMin,

    /// <summary>Millimetres a second.</summary>
    MmPerS,
}
