using System.Globalization;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Planning.Tests;

/// <summary>A colour as eyes with normal sight and without one of the three cones see it.</summary>
/// <remarks>
/// Matrices for linear light, severity 1.0: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A physiologically-based model for
/// simulation of color vision deficiency, IEEE Trans. Visualization and Computer Graphics 15(6), 1291–1298 (2009), table 1 (from
/// memory; their rows add up to 1, so that greys stay grey).
/// </remarks>
internal sealed class SeenColour
{
    /// <summary>Protanopia, deuteranopia, tritanopia; row by row.</summary>
    internal static readonly double[][] Missing =
    [
        [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
        [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881],
        [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900],
    ];

    private readonly Lab[] _seen;

    internal SeenColour(string hex)
    {
        Hex = hex;
        LinearRgb light = new(Channel(0), Channel(2), Channel(4));
        Luminance01 = light.Luminance;
        _seen = [light.ToLab(), .. Missing.Select(matrix => Simulated(light, matrix).ToLab())];

        double Channel(int at) =>
            SrgbCurve.Linear(byte.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0);
    }

    /// <summary>RRGGBB.</summary>
    internal string Hex { get; }

    internal double Luminance01 { get; }

    /// <summary>CIEDE2000 difference to the eyes that see it least.</summary>
    internal double LeastDifferenceTo(SeenColour other) => _seen.Zip(other._seen, Lab.DeltaE2000).Min();

    /// <summary>What a screen cannot show is clipped, as the simulation's authors do.</summary>
    private static LinearRgb Simulated(LinearRgb light, double[] m) => new(
        Math.Clamp(m[0] * light.R + m[1] * light.G + m[2] * light.B, 0, 1),
        Math.Clamp(m[3] * light.R + m[4] * light.G + m[5] * light.B, 0, 1),
        Math.Clamp(m[6] * light.R + m[7] * light.G + m[8] * light.B, 0, 1));
}
