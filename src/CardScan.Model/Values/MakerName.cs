namespace CardScan.Model;

/// <summary>Names that makers give to materials, batches and machines.</summary>
public static class MakerName
{
    /// <summary>
    /// True where two names are one: capitals, and spaces at the ends, tell nothing apart. A missing name is an empty one.
    /// </summary>
    /// <param name="name">A name; null where there is none.</param>
    /// <param name="other">Another.</param>
    public static bool AreSame(string? name, string? other) =>
        string.Equals((name ?? "").Trim(), (other ?? "").Trim(), StringComparison.OrdinalIgnoreCase);
}
