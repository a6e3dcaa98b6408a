using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.FrameSheets;

/// <summary>A scene and what the program read from its photo.</summary>
internal sealed record FramePhoto(FrameScene Scene, Reading Reading)
{
    public PhotoRecord Photo => Reading.Photos[0];

    public FrameReading Frame => Photo.Frame!;

    public IReadOnlyList<string> WarningCodes => [.. Photo.Warnings.Select(warning => warning.Code)];

    public static FramePhoto Of(FrameScene scene)
    {
        Outcome<SeenCard> outcome = Read(scene);
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return new(scene, outcome.Value.Reading);
    }

    public static Outcome<SeenCard> Read(FrameScene scene) => Photographed.Read(FrameRenderer.Render(scene).ToPng(), scene.Plan);

    public static string RefusedFor(FrameScene scene)
    {
        Outcome<SeenCard> outcome = Read(scene);
        Assert.True(outcome.IsRefused, "the photo was measured");
        return outcome.Refusal!.Code;
    }

    /// <summary>Largest distance of a cell's middle from its true place, mm.</summary>
    public double PlaceErrorMm => Reading.Cells.Max(cell =>
    {
        (double x, double y) = Scene.CentreOf(CellOf(cell));
        return Math.Sqrt(Math.Pow(cell.CenterPx!.X - x, 2) + Math.Pow(cell.CenterPx.Y - y, 2)) / Scene.Camera.PxPerMm;
    });

    /// <summary>RMS over the cells of darkness found less the true one.</summary>
    public double DarknessRms => Math.Sqrt(Reading.Cells.Average(cell => Math.Pow(cell.Darkness!.Value - Scene.Darkness(CellOf(cell)), 2)));

    private Cell CellOf(CellReading reading) =>
        Scene.Plan.Plan.Cells.Single(cell => cell.Row == reading.Row && cell.Column == reading.Column);
}
