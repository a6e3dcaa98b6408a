using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>A cut card before a lamp: the card in room light as <see cref="Scene"/> has it, and the light through its kerfs.</summary>
internal sealed record BackLitScene
{
    /// <summary>The room: dim against the lamp, yet enough for the markers. Its cells are bare.</summary>
    public Scene Room { get; init; } =
        new() { Plan = Plans.Cut(), Camera = StraightOn, Darkness = _ => 0, Exposure = 0.3, Light = (x, y) => 1 + 0.0004 * (x - y) };

    /// <summary>What the beam did to each cell.</summary>
    public Func<Cell, CutCell> Cut { get; init; } = _ => CutCell.Of(CutSide.Open);

    /// <summary>
    /// Linear light of the lamp at a point of the plane of the card, mm; 1 is the top of the photo's scale. The usual
    /// lamp outshines it.
    /// </summary>
    public Func<double, double, double> Lamp { get; init; } = (_, _) => 1.9;

    /// <summary>Luminance of a groove's wall against bare material.</summary>
    public double GrooveRatio { get; init; } = 0.1;

    /// <summary>Light from behind that seeps through the walls of a closed groove, linear.</summary>
    public double WallGlow { get; init; }

    /// <summary>Char beside a cell's kerfs fades over this distance, mm; zero is none.</summary>
    public Func<Cell, double> HaloMm { get; init; } = _ => 0;

    /// <summary>Gaussian blur of the lens, px; it spreads the lamp's light over the card's.</summary>
    public double BlurPx { get; init; } = 0.8;

    /// <summary>Standard deviation of the sensor's noise, linear light.</summary>
    public double Noise { get; init; }

    /// <summary>A phone 300 mm over the card's middle: 8 px/mm.</summary>
    public static TestCamera StraightOn { get; } = new() { FocalLength35Mm = 52, DistanceMm = 300, RollDeg = 0 };

    /// <summary>The same scene with the phone straight over a point of the card, mm.</summary>
    public BackLitScene SeenFrom(double xMm, double yMm) =>
        this with { Room = Room with { Camera = Room.Camera with { AimMm = (xMm, yMm) } } };

    /// <summary>The same scene with a card of another thickness; null where the plan does not tell.</summary>
    public BackLitScene OfThickness(double? planMm, double trueMm) =>
        this with { Room = Room with { Plan = Plans.Cut(planMm) }, ThicknessMm = trueMm };

    /// <summary>Rays along each edge of a pixel near a path or the rim.</summary>
    public int EdgeSamples { get; init; } = 8;

    /// <summary>True thickness of the card, mm.</summary>
    public double ThicknessMm { get; init; } = 3;
}
