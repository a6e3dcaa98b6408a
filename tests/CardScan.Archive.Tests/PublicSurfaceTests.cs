namespace CardScan.Archive.Tests;

public class PublicSurfaceTests
{
    [Fact]
    public void Only_the_entry_point_is_public() =>
        Assert.Equal([nameof(CardArchive)], typeof(CardArchive).Assembly.GetExportedTypes().Select(type => type.Name));
}
