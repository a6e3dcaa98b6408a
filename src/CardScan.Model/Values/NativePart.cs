namespace CardScan.Model;

/// <summary>A native library that a stage uses.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Load">Loads it and gives its own version; throws what the system's loader complains of.</param>
public sealed record NativePart(string Name, Func<string> Load);
