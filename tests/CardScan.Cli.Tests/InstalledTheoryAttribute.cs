namespace CardScan.Cli.Tests;

/// <summary>The same as <see cref="InstalledFactAttribute"/> for a test with several cases.</summary>
public sealed class InstalledTheoryAttribute : TheoryAttribute
{
    /// <param name="program">Name of the program.</param>
    public InstalledTheoryAttribute(string program) => (Program, Skip) = (program, new InstalledFactAttribute(program).Skip);

    /// <summary>Name of the program.</summary>
    public string Program { get; }
}
