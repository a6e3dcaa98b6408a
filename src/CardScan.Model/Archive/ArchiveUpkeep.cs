namespace CardScan.Model;

/// <summary>How much a bundle holds, or brought that was new.</summary>
/// <param name="Cards">Cards.</param>
/// <param name="Readings">Readings.</param>
public sealed record BundlePart(int Cards, int Readings);

/// <summary>What an archive holds that was copied whole.</summary>
/// <param name="Cards">Cards.</param>
/// <param name="Readings">Readings, those that were superseded included.</param>
/// <param name="Files">Photos, annotated pictures and pages.</param>
public sealed record CopiedArchive(int Cards, int Readings, int Files);

/// <summary>What a check of an archive found.</summary>
/// <param name="Faults">What is wrong, one line each; none where the archive is sound.</param>
/// <param name="Files">How many kept files were checked.</param>
/// <param name="Readings">How many readings were checked.</param>
/// <param name="Leftovers">Paths of files that belong to nothing: of a write that was broken off, in nobody's view. No fault.</param>
public sealed record ArchiveHealth(ValueList<string> Faults, int Files, int Readings, ValueList<string> Leftovers)
{
    /// <summary>True where nothing is wrong.</summary>
    public bool IsSound => Faults.Count == 0;
}

/// <summary>What is to be removed from an archive.</summary>
/// <param name="Subjects">Readings and cards; a card goes with all its readings.</param>
/// <param name="Superseded">True for every reading whose photos were all read again later.</param>
public sealed record PruneRequest(ValueList<ArchiveSubject> Subjects, bool Superseded);

/// <summary>What was or would be removed.</summary>
/// <param name="Cards">Names of cards.</param>
/// <param name="Readings">Names of readings.</param>
/// <param name="Files">Paths of files that nothing else refers to.</param>
/// <param name="SizeBytes">Their sizes together.</param>
public sealed record PrunedPart(ValueList<string> Cards, ValueList<string> Readings, ValueList<string> Files, long SizeBytes);
