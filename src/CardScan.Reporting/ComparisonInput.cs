using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What the page of a comparison is made from.</summary>
/// <param name="Comparison">The comparison.</param>
/// <param name="Readings">Its readings, in the order of its batches.</param>
/// <param name="Pictures">Annotated pictures of some of them; none is fine.</param>
public sealed record ComparisonInput(Comparison Comparison, ValueList<Reading> Readings, ValueList<ComparedPicture> Pictures);

/// <summary>The annotated picture of a compared card.</summary>
/// <param name="Label">The batch's label.</param>
/// <param name="File">The picture's file; left out of the page where it is none.</param>
public sealed record ComparedPicture(string Label, ReadOnlyMemory<byte> File);
