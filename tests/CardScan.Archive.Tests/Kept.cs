using System.Text;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>Things to keep.</summary>
internal static class Kept
{
    /// <summary>A small plan with what distinguishes cards.</summary>
    internal static Plan Plan(int number = 17, string material = "birch plywood", string? batch = "B-1", double thicknessMm = 3,
        string title = "") => Model.Tests.Samples.Plan with
    {
        Number = number,
        Title = title,
        Material = new() { Name = material, ThicknessMm = thicknessMm, Batch = batch },
        Fiducials = Model.Tests.Samples.Plan.Fiducials with
        {
            Markers = Model.Tests.Samples.Plan.Fiducials.Markers.Select((marker, i) => marker with { Id = 4 * number + i }).ToValueList()
        },
    };

    internal static byte[] Json(Plan plan) => Encoding.UTF8.GetBytes(CardJson.Write(plan));

    /// <summary>A reading of a plan's card, all its files included.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="photo">What tells one photo from another.</param>
    /// <param name="darkness">What tells one reading from another.</param>
    internal static ReadingToKeep Reading(Plan plan, string photo = "photo", double darkness = 0.4)
    {
        byte[] json = Json(plan), bytes = Photo(photo);
        Reading sample = Model.Tests.Samples.Reading;
        Reading reading = sample with
        {
            Plan = plan,
            PlanSha256 = CardJson.Sha256(json),
            Photos = [sample.Photos[0] with { File = $"{photo}.jpg", Sha256 = CardJson.Sha256(bytes) }],
            Cells = [sample.Cells[0] with { Darkness = new(darkness, 0.01) }],
        };
        return new()
        {
            PlanJson = json,
            Reading = reading,
            Photos = [bytes],
            AnnotatedPictures = [Picture($"{photo} {darkness}")],
            Report = Encoding.UTF8.GetBytes($"<html>{photo} {darkness}")
        };
    }

    /// <summary>A reading of several photos of a card.</summary>
    internal static ReadingToKeep ReadingOf(Plan plan, params string[] photos)
    {
        ReadingToKeep[] each = [.. photos.Select(photo => Reading(plan, photo))];
        return each[0] with
        {
            Reading = each[0].Reading with { Photos = each.SelectMany(one => one.Reading.Photos).ToValueList() },
            Photos = each.SelectMany(one => one.Photos).ToValueList(),
            AnnotatedPictures = each.SelectMany(one => one.AnnotatedPictures).ToValueList(),
        };
    }

    private static byte[] Photo(string text) => [0xFF, 0xD8, 0xFF, .. Encoding.UTF8.GetBytes(text)];

    private static byte[] Picture(string text) => [0x89, .. "PNG"u8, .. Encoding.UTF8.GetBytes(text)];
}
