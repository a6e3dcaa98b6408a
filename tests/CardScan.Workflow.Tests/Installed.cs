namespace CardScan.Workflow.Tests;

/// <summary>Programs that are used where they are installed.</summary>
internal static class Installed
{
    internal static string? Browser { get; } = Find("chromium") ?? Find("chromium-browser") ?? Find("google-chrome");

    internal static string? Poppler { get; } = Find("pdftoppm");

    private static string? Find(string name) => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists);
}

/// <summary>A test that needs a browser, and says so where there is none.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class BrowserTheoryAttribute : TheoryAttribute
{
    public BrowserTheoryAttribute() => Skip = Installed.Browser is null ? "no Chromium on this machine" : null;
}

/// <summary>A test that needs Poppler, and says so where there is none.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class PopplerFactAttribute : FactAttribute
{
    public PopplerFactAttribute() => Skip = Installed.Poppler is null ? "no pdftoppm on this machine" : null;
}
