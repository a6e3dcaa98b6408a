using CardScan.Calibration;

namespace CardScan.Robustness;

/// <summary>One thing that differs from photo to photo.</summary>
/// <param name="Name">Its name, with the unit of its levels.</param>
/// <param name="Levels">What it can be.</param>
internal sealed record Factor(string Name, IReadOnlyList<Level> Levels)
{
    /// <summary>Draws a level by the levels' weights, and how severe it is.</summary>
    public Drawn Draw(Chance chance)
    {
        double at = chance.Uniform() * Levels.Sum(level => level.Weight);
        Level drawn = Levels[^1];
        foreach (Level level in Levels)
        {
            at -= level.Weight;
            if (at >= 0) continue;
            drawn = level;
            break;
        }

        return new(this, drawn, drawn.From + (drawn.To - drawn.From) * chance.Uniform());
    }
}

/// <summary>One level of a factor.</summary>
/// <param name="Name">Its name in the tables.</param>
/// <param name="Weight">How often it is drawn, against the other levels.</param>
/// <param name="From">Least value; what it counts is the factor's own.</param>
/// <param name="To">Largest value.</param>
internal sealed record Level(string Name, double Weight, double From = 0, double To = 0);

/// <summary>What was drawn of a factor.</summary>
internal sealed record Drawn(Factor Factor, Level Level, double Value);

/// <summary>The factors and their levels: about two photos in three are as a careful person takes them, in each factor.</summary>
internal static class Factors
{
    public static readonly Factor Process = new("process", [new("engraved, front-lit", 7), new("cut, back-lit", 3)]);

    /// <summary>Degrees from straight above.</summary>
    public static readonly Factor Tilt = new("tilt, degrees",
        [new("0 to 10", 45, 0, 10), new("10 to 20", 25, 10, 20), new("20 to 35", 20, 20, 35), new("35 to 50", 10, 35, 50)]);

    /// <summary>Degrees of the card in the picture.</summary>
    public static readonly Factor Turn = new("turn, degrees", [new("within 10", 60, -10, 10), new("any", 40, -180, 180)]);

    /// <summary>Pixels a millimetre in the middle of the card.</summary>
    public static readonly Factor Scale =
        new("scale, px/mm", [new("6 to 8", 10, 6, 8), new("8 to 10", 50, 8, 10), new("10 to 13", 30, 10, 13), new("13 to 17", 10, 13, 17)]);

    /// <summary>Side of a cell, mm.</summary>
    public static readonly Factor CellSize = new("cells, mm", [new("8", 60, 8, 8), new("5", 40, 5, 5)]);

    /// <summary>
    /// What the light does: loss in the corners, ratio across the card, depth of a shadow, strength of a reflection
    /// against bare material.
    /// </summary>
    public static readonly Factor Light = new("light", [
        new("even", 25), new("vignette", 20, 0.2, 0.5), new("gradient", 20, 1.3, 4), new("shadow's edge", 15, 0.15, 0.6),
        new("small reflection", 10, 0.2, 1.2), new("wide reflection", 10, 0.05, 0.3)]);

    /// <summary>Linear luminance that the brightest of bare material and marks gets.</summary>
    public static readonly Factor Exposure = new(
        "exposure", [new("usual", 65, 0.35, 0.6), new("dark", 20, 0.06, 0.2), new("bright", 10, 0.6, 0.8), new("too bright", 5, 1.0, 1.6)]);

    /// <summary>Standard deviation of the spread, px.</summary>
    public static readonly Factor Blur = new("blur, px",
        [
            new("0.5 to 0.9", 45, 0.5, 0.9),
            new("0.9 to 1.4", 30, 0.9, 1.4),
            new("1.4 to 3", 13, 1.4, 3),
            new("motion, 1.4 to 4", 12, 1.4, 4)
        ]);

    /// <summary>Standard deviation of a pixel's light against that of bare material.</summary>
    public static readonly Factor Noise = new("noise, %",
        [new("0.3 to 1", 30, 0.003, 0.01), new("1 to 3", 40, 0.01, 0.03), new("3 to 8", 20, 0.03, 0.08), new("8 to 20", 10, 0.08, 0.2)]);

    /// <summary>Strength of the phone's curve; exponent of local toning.</summary>
    public static readonly Factor Tone =
        new("tone curve", [new("sRGB", 50), new("gentle", 25, 0.05, 0.2), new("strong", 20, 0.2, 0.4), new("local", 5, 0.05, 0.3)]);

    public static readonly Factor Jpeg = new("JPEG quality",
        [new("90 to 95", 35, 90, 95), new("80 to 90", 35, 80, 90), new("65 to 80", 20, 65, 80), new("45 to 65", 10, 45, 65)]);

    public static readonly Factor Material = new("material", [.. Materials.All.Select(material => new Level(material.Name, 1))]);

    /// <summary>Sagitta of a bow along the card's width, mm; char round burned modules, mm.</summary>
    public static readonly Factor Card = new("card", [
        new("flat", 55), new("bowed up to 1 mm", 15, 0.2, 1), new("bowed 1 to 2 mm", 5, 1, 2), new("marker covered", 8),
        new("marker stained", 7), new("charred markers", 10, 0.05, 0.25)]);

    public static readonly Factor FocalLength = new("focal length", [new("in the file", 75), new("not told", 25)]);

    public static readonly IReadOnlyList<Factor> All =
        [Process, Material, Card, CellSize, Tilt, Turn, Scale, Light, Exposure, Blur, Noise, Tone, Jpeg, FocalLength];
}
