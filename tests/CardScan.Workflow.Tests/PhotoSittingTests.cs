using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Photos that come one by one.</summary>
public sealed class PhotoSittingTests : IDisposable
{
    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    private static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    private ArchivePlace ArchiveOf(string plan)
    {
        using CardArchive archive = CardArchive.Open(_scratch, TimeProvider.System).Value;
        Assert.False(archive.KeepCard(File.ReadAllBytes(Data(plan))).IsRefused);
        return new(_scratch, TimeProvider.System);
    }

    private static Reading ReadNext(PhotoSitting sitting, string path)
    {
        SeenPhoto seen = sitting.See(path, Path.GetFileName(path)).Single();
        Assert.Null(seen.Refusal);
        return sitting.Read(seen).Value.Reading;
    }

    [Fact]
    public void Photos_one_by_one_give_the_reading_of_all_at_once()
    {
        string[] photos = [Data("cut/lime-cut-left.jpg"), Data("cut/lime-cut-front.jpg"), Data("cut/lime-cut-right.jpg")];
        using PhotoSitting sitting = new(ArchiveOf("cut/plan.json"));
        Reading oneByOne = photos.Select(photo => ReadNext(sitting, photo)).ToArray()[^1];
        Reading atOnce = ReadOne.Run(new() { Photos = photos.ToValueList(), Plans = [Data("cut/plan.json")] }).Value.Reading;
        Assert.Equal(atOnce.Cells, oneByOne.Cells);
        Assert.Equal(atOnce.Recommendations, oneByOne.Recommendations);
        Assert.Equal(atOnce.Photos.Select(photo => photo.Sha256), oneByOne.Photos.Select(photo => photo.Sha256));
    }

    [Fact]
    public void The_same_photo_twice_counts_once_and_a_forgotten_card_begins_anew()
    {
        using PhotoSitting sitting = new(ArchiveOf("birch-engrave.plan.json"));
        string photo = Data("birch-engrave.jpg"), other = Copy(1);
        ReadNext(sitting, photo);
        Assert.Single(ReadNext(sitting, photo).Photos);
        Assert.Equal(2, ReadNext(sitting, other).Photos.Count);
        SeenPhoto seen = sitting.See(photo, "photo.jpg").Single();
        sitting.Forget(seen.PlanSha256!);
        Assert.Equal(Codes.SittingOver, sitting.Read(seen).Refusal!.Code);
        Assert.Single(ReadNext(sitting, other).Photos);
    }

    /// <summary>Photos that a reading has are let go, oldest first; one that no reading has yet is not.</summary>
    [Fact]
    public void No_more_photos_of_a_card_are_held_than_are_read_together_but_each_is_read()
    {
        using PhotoSitting sitting = new(ArchiveOf("birch-engrave.plan.json"));
        SeenPhoto[] seen = [.. Enumerable.Range(0, PhotoSitting.MostOfCard + 1).Select(i => sitting.See(Copy(i), $"{i}.jpg").Single())];
        Assert.Equal(Sha256Of(seen), Sha256Of(sitting.Read(seen[0])));
        SeenPhoto[] later = [.. Enumerable.Range(seen.Length, 2).Select(i => sitting.See(Copy(i), $"{i}.jpg").Single())];
        Assert.Equal(Sha256Of([.. seen[2..], .. later]), Sha256Of(sitting.Read(later[1])));
    }

    private static IEnumerable<string?> Sha256Of(SeenPhoto[] photos) => photos.Select(photo => photo.Sha256);

    private static IEnumerable<string?> Sha256Of(Outcome<ReadResult> read) => read.Value.Reading.Photos.Select(photo => photo.Sha256);

    /// <summary>The same picture as another file: what stands behind a picture's end is no part of it.</summary>
    private string Copy(int number)
    {
        string path = Path.Combine(_scratch, $"copy-{number}.jpg");
        File.WriteAllBytes(path, [.. File.ReadAllBytes(Data("birch-engrave.jpg")), (byte)number]);
        return path;
    }
}
