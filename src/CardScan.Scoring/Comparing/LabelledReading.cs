using CardScan.Model;

namespace CardScan.Scoring.Comparing;

/// <summary>A reading and the name it goes by in a comparison.</summary>
/// <param name="Label">Name, not empty; each once.</param>
/// <param name="Reading">The reading, scored or not.</param>
public sealed record LabelledReading(string Label, Reading Reading);
