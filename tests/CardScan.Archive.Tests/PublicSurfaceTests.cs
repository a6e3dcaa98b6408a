namespace CardScan.Archive.Tests;

public class PublicSurfaceTests
{
    [Fact]
    public void Only_the_entry_point_and_its_records_are_public() => Assert.Equal(
        [
            "ArchiveHealth", "ArchiveQuery", "ArchiveSubject", "BestSetting", "BundlePart", "CardArchive", "CardEntry", "KeptCard", "KeptReading", "LikeCard", "NoteEntry", "PhotoEntry",
            "PruneRequest", "PrunedPart", "ReadingEntry", "ReadingToKeep", "RecommendationEntry",
        ],
        typeof(CardArchive).Assembly.GetExportedTypes().Select(type => type.Name).Order(StringComparer.Ordinal));
}
