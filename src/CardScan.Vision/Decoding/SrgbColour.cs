namespace CardScan.Vision;

/// <summary>A colour in linear light, sRGB primaries; 1 is the photo's own white.</summary>
/// <param name="R">Red, 0 to 1.</param>
/// <param name="G">Green, 0 to 1.</param>
/// <param name="B">Blue, 0 to 1.</param>
internal readonly record struct LinearRgb(double R, double G, double B)
{
    /// <summary>Relative luminance, 0 to 1 (IEC 61966-2-1).</summary>
    public double Luminance => 0.2126 * R + 0.7152 * G + 0.0722 * B;

    public static LinearRgb operator +(LinearRgb a, LinearRgb b) => new(a.R + b.R, a.G + b.G, a.B + b.B);

    public static LinearRgb operator *(LinearRgb a, double factor) => new(a.R * factor, a.G * factor, a.B * factor);

    /// <summary>CIE L*a*b* under D65 (ISO/CIE 11664-4), Y = 1 at L* = 100.</summary>
    public Lab ToLab()
    {
        double fx = F((0.4124 * R + 0.3576 * G + 0.1805 * B) / 0.95047);
        double fy = F(Luminance);
        double fz = F((0.0193 * R + 0.1192 * G + 0.9505 * B) / 1.08883);
        return new(116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz));

        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : (24389.0 / 27 * t + 16) / 116;
    }
}

/// <summary>A colour in CIE L*a*b*, D65.</summary>
/// <param name="L">Lightness, 0 to 100.</param>
/// <param name="A">Green to red.</param>
/// <param name="B">Blue to yellow.</param>
internal readonly record struct Lab(double L, double A, double B)
{
    /// <summary>CIEDE2000 colour difference, kL = kC = kH = 1.</summary>
    /// <remarks>Source: Sharma, Wu and Dalal, Color Res. Appl. 30(1), 21–30 (2005); equation numbers as there.</remarks>
    public static double DeltaE2000(Lab first, Lab second)
    {
        double meanChroma = (Math.Sqrt(Square(first.A) + Square(first.B)) + Math.Sqrt(Square(second.A) + Square(second.B))) / 2;
        double g = 0.5 * (1 - Math.Sqrt(Pow7(meanChroma) / (Pow7(meanChroma) + Pow7(25))));           // (4)
        (double c1, double h1) = ChromaAndHue(first, g);
        (double c2, double h2) = ChromaAndHue(second, g);

        double dL = second.L - first.L;
        double dC = c2 - c1;
        double dHue = HueDifference(h1, h2, c1 * c2);                                                   // (10)
        double dH = 2 * Math.Sqrt(c1 * c2) * Math.Sin(Radians(dHue / 2));                               // (11)

        double meanL = (first.L + second.L) / 2;
        double meanC = (c1 + c2) / 2;
        double meanH = MeanHue(h1, h2, c1 * c2);                                                        // (14)
        double t = 1 - 0.17 * Cos(meanH - 30) + 0.24 * Cos(2 * meanH) + 0.32 * Cos(3 * meanH + 6) - 0.20 * Cos(4 * meanH - 63);
        double sL = 1 + 0.015 * Square(meanL - 50) / Math.Sqrt(20 + Square(meanL - 50));
        double sC = 1 + 0.045 * meanC;
        double sH = 1 + 0.015 * meanC * t;
        double rotation = 30 * Math.Exp(-Square((meanH - 275) / 25));
        double rT = -2 * Math.Sqrt(Pow7(meanC) / (Pow7(meanC) + Pow7(25))) * Math.Sin(Radians(2 * rotation));

        return Math.Sqrt(Square(dL / sL) + Square(dC / sC) + Square(dH / sH) + rT * (dC / sC) * (dH / sH)); // (22)
    }

    private static (double Chroma, double HueDeg) ChromaAndHue(Lab lab, double g)
    {
        double a = (1 + g) * lab.A;
        double chroma = Math.Sqrt(Square(a) + Square(lab.B));
        double hue = chroma == 0 ? 0 : Math.Atan2(lab.B, a) * 180 / Math.PI;
        return (chroma, hue < 0 ? hue + 360 : hue);
    }

    // Two hues exactly opposite differ by 180° only up to the arctangent's last bit; the published values take the
    // branch of "not more than 180".
    private static bool IsMoreThanHalfTurn(double degrees) => Math.Abs(degrees) > 180 + 1e-9;

    private static double HueDifference(double h1, double h2, double chromaProduct)
    {
        if (chromaProduct == 0) return 0;
        double difference = h2 - h1;
        return !IsMoreThanHalfTurn(difference) ? difference : difference > 0 ? difference - 360 : difference + 360;
    }

    private static double MeanHue(double h1, double h2, double chromaProduct)
    {
        double sum = h1 + h2;
        if (chromaProduct == 0) return sum;
        return !IsMoreThanHalfTurn(h1 - h2) ? sum / 2 : sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
    }

    private static double Square(double x) => x * x;

    private static double Pow7(double x) => Math.Pow(x, 7);

    private static double Radians(double degrees) => degrees * Math.PI / 180;

    private static double Cos(double degrees) => Math.Cos(Radians(degrees));
}
