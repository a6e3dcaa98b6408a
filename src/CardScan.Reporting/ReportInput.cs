using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What the page is made from.</summary>
/// <param name="Reading">The reading, with its recommendations.</param>
/// <param name="Pictures">
/// The rectified photos as <see cref="CardReport.OnPage"/> makes them, in the order of the reading's photos: picture i shows
/// photo i. Fewer pictures than photos, or none, is fine (a saved reading has none); the page then says that the picture is missing.
/// </param>
public sealed record ReportInput(Reading Reading, ValueList<PagePhoto> Pictures);

/// <summary>A reading among others.</summary>
/// <param name="Name">Its name in the archive: <c>r12</c>.</param>
/// <param name="ReadUtc">When it was read, UTC.</param>
/// <param name="Reading">The reading.</param>
public sealed record NamedReading(string Name, DateTimeOffset ReadUtc, Reading Reading);
