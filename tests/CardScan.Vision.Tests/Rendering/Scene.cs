using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>A rectangle on the card, mm.</summary>
internal readonly record struct CardRectangle(double X, double Y, double Width, double Height)
{
    public bool Holds(double x, double y) => x >= X && x < X + Width && y >= Y && y < Y + Height;
}

/// <summary>A bright patch mirrored by the card: light added, Gaussian about a point of the card.</summary>
/// <param name="X">Centre, mm.</param>
/// <param name="Y">Centre, mm.</param>
/// <param name="SpreadMm">Standard deviation, mm.</param>
/// <param name="Strength">Linear light added at the centre; 1 is the photo's white.</param>
internal sealed record GlareSpot(double X, double Y, double SpreadMm, double Strength);

/// <summary>What a photo shows. Defaults are the perfect picture; each knob is one disturbance.</summary>
internal sealed record Scene
{
    public PlanFile Plan { get; init; } = TestPlans.Engraved();

    public TestCamera Camera { get; init; } = new();

    /// <summary>Colour of the bare card, linear light.</summary>
    public (double R, double G, double B) Bare { get; init; } = (0.55, 0.5, 0.4);

    /// <summary>Luminance of burned marker modules against bare; above 1 for material that gets lighter.</summary>
    public double MarkerRatio { get; init; } = 0.15;

    /// <summary>True darkness of each cell: −log10 of its luminance against the bare card's.</summary>
    public Func<Cell, double> Darkness { get; init; } = cell => 0.05 + 0.2 * cell.Column + 0.03 * cell.Row;

    /// <summary>
    /// Share of the darkness that each channel takes, green about 1: a brown burn loses more blue than red. The
    /// luminance stays that of <see cref="Darkness"/>.
    /// </summary>
    public (double R, double G, double B) BurnTint { get; init; } = (1, 1, 1);

    /// <summary>
    /// Width of a line of a focus ladder, mm; 0 where it marked nothing. Lines are as dark as <see cref="Darkness"/> has their cell.
    /// </summary>
    public Func<Cell, BurnedLine, double> LineWidthMm { get; init; } = (_, _) => 0.2;

    /// <summary>Factor of the light at a point of the card, mm.</summary>
    public Func<double, double, double> Light { get; init; } = (_, _) => 1;

    /// <summary>Char around burned marker modules: the edges stand this far outside the plan, mm.</summary>
    public double MarkerBleedMm { get; init; }

    /// <summary>Standard deviation of the grain, natural log; streaks along x.</summary>
    public double Grain { get; init; }

    /// <summary>Gaussian blur of the lens, px.</summary>
    public double BlurPx { get; init; }

    /// <summary>Blur by motion along the picture's x, Gaussian, px.</summary>
    public double MotionPx { get; init; }

    /// <summary>Standard deviation of the sensor's noise, linear light.</summary>
    public double Noise { get; init; }

    public GlareSpot? Glare { get; init; }

    /// <summary>Paper laid over the card.</summary>
    public IReadOnlyList<CardRectangle> Covers { get; init; } = [];

    /// <summary>Factor of the exposure.</summary>
    public double Exposure { get; init; } = 1;

    /// <summary>True centre of a cell in the photo, px.</summary>
    public (double X, double Y) CentreOf(Cell cell) => Camera.ToPhoto(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);
}
