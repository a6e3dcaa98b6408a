namespace CardScan.Workflow.Tests;

public sealed class ArchivePlaceTests
{
    private const string Bucket = "postgresql://keeper@shop.example/cards?files=s3://cards/shop&s3=https://store.example";

    /// <summary>Also where a new user has no folder for data yet: never in the one that the program stands in.</summary>
    [Fact]
    public void What_is_on_its_way_into_a_bucket_waits_in_a_folder_of_this_computer()
    {
        ArchivePlace place = new(Bucket, TimeProvider.System), other = new($"{Bucket}:9000", TimeProvider.System);
        Assert.True(Path.IsPathFullyQualified(place.Folder), place.Folder);
        Assert.NotEqual(place.Folder, other.Folder);
        Assert.Equal("s3://cards/shop", place.Bucket);
    }

    [Theory]
    [InlineData("/srv/cards", "/srv/cards")]
    [InlineData("postgresql://keeper@shop.example/cards?files=/mnt/cards", "/mnt/cards")]
    public void Files_in_a_folder_are_in_no_bucket(string name, string folder)
    {
        ArchivePlace place = new(name, TimeProvider.System);
        Assert.Equal((folder, null), (place.Folder, place.Bucket));
    }
}
