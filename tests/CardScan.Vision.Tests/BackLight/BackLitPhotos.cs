using CardScan.Model;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>Back-lit scenes and what the program read from them.</summary>
/// <param name="Scene">The first scene.</param>
/// <param name="Reading">What was read.</param>
internal sealed record BackLitPhotos(BackLitScene Scene, Reading Reading)
{
    /// <summary>Every side with the cell it belongs to.</summary>
    public IEnumerable<(Cell Cell, CellSide Side, SideReading Reading)> Sides =>
        Scene.Room.Plan.Plan.Cells.Zip(Reading.Cells)
            .SelectMany(pair => Enum.GetValues<CellSide>().Select(side => (pair.First, side, Of(pair.Second, side))));

    public IReadOnlyList<Warning> Warnings => [.. Reading.Photos.SelectMany(photo => photo.Warnings)];

    public IReadOnlyList<string> WarningCodes => [.. Warnings.Select(warning => warning.Code)];

    public int Unseen => Sides.Count(side => side.Reading.State == SideState.Unseen);

    /// <summary>Renders the scenes, photos of one card, and reads them together; fails the test where one is refused.</summary>
    public static BackLitPhotos Of(params BackLitScene[] scenes)
    {
        Outcome<SeenCard> outcome = Read(scenes, new VisionOptions());
        Assert.False(outcome.IsRefused, outcome.Refusal?.ToString());
        return new(scenes[0], outcome.Value.Reading);
    }

    public static Outcome<SeenCard> Read(IReadOnlyList<BackLitScene> scenes, VisionOptions options, bool withFocalLength = true) =>
        OneCard.Read([.. scenes.Select((scene, i) => new PhotoFile($"photo{i}.jpg", Jpeg(scene, withFocalLength)))],
            scenes[0].Room.Plan, options);

    /// <summary>The photo's file, with the focal length that phones write (EXIF 2.3, tag A405).</summary>
    public static byte[] Jpeg(BackLitScene scene, bool withFocalLength = true, int quality = 90)
    {
        using Image image = Image.Load(BackLitRenderer.Render(scene).ToPng());
        if (withFocalLength)
        {
            image.Metadata.ExifProfile = new ExifProfile();
            image.Metadata.ExifProfile.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)scene.Room.Camera.FocalLength35Mm);
        }

        using MemoryStream file = new();
        image.Save(file, new JpegEncoder { Quality = quality });
        return file.ToArray();
    }

    /// <summary>One side of one cell.</summary>
    public SideReading Side(int row, int column, CellSide side) =>
        Sides.Single(known => known.Cell.Row == row && known.Cell.Column == column && known.Side == side).Reading;

    private static SideReading Of(CellReading cell, CellSide side) => side switch
    {
        CellSide.Left => cell.Sides!.Left,
        CellSide.Right => cell.Sides!.Right,
        CellSide.Top => cell.Sides!.Top,
        _ => cell.Sides!.Bottom,
    };
}
