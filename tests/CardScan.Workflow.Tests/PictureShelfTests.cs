using CardScan.Model;

namespace CardScan.Workflow.Tests;

public sealed class PictureShelfTests
{
    /// <summary>More than are held in memory, from several threads.</summary>
    [Fact]
    public void Pictures_come_back_as_they_were()
    {
        const int Pictures = 20, Seed = 7;
        Random random = new(Seed);
        CardPicture[] pictures = [.. Enumerable.Range(0, Pictures).Select(i =>
        {
            byte[] rgba = new byte[4 * (10 + i) * 8];
            random.NextBytes(rgba);
            return new CardPicture(10 + i, 8, 12, 3, rgba);
        })];
        using PictureShelf shelf = new();

        ShelvedPicture[] put = [.. pictures.AsParallel().AsOrdered().Select(picture => shelf.Put(picture).Value)];
        CardPicture[] taken = [.. put.AsParallel().AsOrdered().Select(shelf.Take)];

        Assert.Contains(put, each => each.Picture.Rgba.IsEmpty);
        Assert.Equal(pictures.Select(each => (each.WidthPx, each.PxPerMm)), taken.Select(each => (each.WidthPx, each.PxPerMm)));
        Assert.All(pictures.Zip(taken), pair => Assert.Equal(pair.First.Rgba.ToArray(), pair.Second.Rgba.ToArray()));
    }

    [Fact]
    public void Nothing_is_left_behind()
    {
        string[] before = Directory.GetFiles(Path.GetTempPath(), "cardscan-*.tmp");
        using (PictureShelf shelf = new())
        {
            for (int i = 0; i < 12; i++) shelf.Put(new(2, 2, 1, 0, new byte[16]));
        }

        Assert.Empty(Directory.GetFiles(Path.GetTempPath(), "cardscan-*.tmp").Except(before));
    }
}
