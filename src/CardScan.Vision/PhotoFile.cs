namespace CardScan.Vision;

/// <summary>A photo as it came.</summary>
/// <param name="Name">File name, for messages and for the reading.</param>
/// <param name="Bytes">The file's bytes.</param>
public sealed record PhotoFile(string Name, ReadOnlyMemory<byte> Bytes);
