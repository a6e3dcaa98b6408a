using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What the page is made from.</summary>
/// <param name="Reading">The reading, with its recommendations.</param>
/// <param name="Pictures">
/// The rectified photos, in the order of the reading's photos: picture i shows photo i. Fewer pictures than photos, or
/// none, is fine (a saved reading has none); the page then says that the picture is missing.
/// </param>
public sealed record ReportInput(Reading Reading, ValueList<CardPicture> Pictures);
