using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>A scene, its photo and what the program read from it.</summary>
internal sealed record Photographed(Scene Scene, Reading Reading)
{
    public PhotoRecord Photo => Reading.Photos[0];

    public IReadOnlyList<string> WarningCodes => [.. Photo.Warnings.Select(warning => warning.Code)];

    /// <summary>Renders and reads; fails the test where the photo is refused.</summary>
    public static Photographed Of(Scene scene, int? jpegQuality = null)
    {
        LinearPicture picture = SceneRenderer.Render(scene);
        Outcome<SeenCard> outcome = Read(jpegQuality is int quality ? picture.ToJpeg(quality) : picture.ToPng(), scene.Plan);
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return new(scene, outcome.Value.Reading);
    }

    /// <summary>Renders and reads; fails the test where the photo is measured.</summary>
    public static Refusal RefusalOf(Scene scene) => RefusalOf(SceneRenderer.Render(scene).ToPng(), scene.Plan);

    public static Refusal RefusalOf(byte[] photo, PlanFile plan)
    {
        Outcome<SeenCard> outcome = Read(photo, plan);
        Assert.True(outcome.IsRefused, "the photo was measured");
        return outcome.Refusal!;
    }

    public static Outcome<SeenCard> Read(byte[] photo, PlanFile plan) =>
        OneCard.Read([new PhotoFile("photo", photo)], plan, new VisionOptions());

    /// <summary>Cells that the scoring would use.</summary>
    public IEnumerable<CellReading> Usable =>
        Reading.Cells.Where(cell => cell.Darkness is not null && !cell.Flags.Any(CellFlag.IsDisqualifying));

    /// <summary>Distance of a cell's centre from its true place, mm.</summary>
    public double PlaceErrorMm(CellReading cell)
    {
        (double x, double y) = Scene.CentreOf(CellOf(cell));
        return Math.Sqrt(Math.Pow(cell.CenterPx!.X - x, 2) + Math.Pow(cell.CenterPx.Y - y, 2)) / Scene.Camera.PxPerMm;
    }

    /// <summary>Darkness found less the true one.</summary>
    public double DarknessError(CellReading cell) => cell.Darkness!.Value - Scene.Darkness(CellOf(cell));

    /// <summary>Asserts that every cell is there, in its place, and as dark as it is.</summary>
    public void ShowsEveryCellWithin(double placeMm, double darkness)
    {
        Assert.Equal(Scene.Plan.Plan.Cells.Count, Usable.Count());
        Assert.InRange(Usable.Max(PlaceErrorMm), 0, placeMm);
        Assert.InRange(Usable.Max(cell => Math.Abs(DarknessError(cell))), 0, darkness);
    }

    private Cell CellOf(CellReading reading) =>
        Scene.Plan.Plan.Cells.Single(cell => cell.Row == reading.Row && cell.Column == reading.Column);
}
