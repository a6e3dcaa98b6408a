using System.Diagnostics;

namespace CardScan.Cli.Tests;

public class ManPageTests
{
    private static readonly string Kept = Path.Combine(FindRoot(), "docs", "cardscan.1");

    [Fact]
    public void The_page_that_packages_take_is_as_the_commands_make_it()
    {
        string made = Cli.Run("man").Output;
        if (Environment.GetEnvironmentVariable("CARDSCAN_WRITE_DOCS") == "1") File.WriteAllText(Kept, made);
        Assert.Equal(made, File.ReadAllText(Kept));
    }

    [Fact]
    public void The_page_names_every_command_and_every_option_and_nobodys_folder()
    {
        string page = Cli.Run("man").Output.Replace("\\-", "-", StringComparison.Ordinal);
        foreach (string command in (string[])["plan", "read", "archive prune", "profile edit", "units", "completion"])
            Assert.Contains($".SS \"cardscan {command}", page, StringComparison.Ordinal);
        foreach (string option in (string[])["--line-interval", "--really-delete", "--fastest-feed", "--json"])
            Assert.Contains($"\\fB{option}\\fR", page, StringComparison.Ordinal);
        Assert.DoesNotContain(AppContext.BaseDirectory, page, StringComparison.Ordinal);
    }

    [InstalledFact("groff")]
    public async Task Roff_sets_the_page_without_a_warning()
    {
        using Process roff = Process.Start(new ProcessStartInfo("groff", ["-man", "-Tutf8", "-ww", Kept])
        {
            UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true,
        })!;
        Task<string> warnings = roff.StandardError.ReadToEndAsync();
        string text = await roff.StandardOutput.ReadToEndAsync();
        await roff.WaitForExitAsync();
        Assert.Equal("", await warnings);
        Assert.Contains("CARDSCAN(1)", text, StringComparison.Ordinal); // headings are struck over letter by letter on some systems
    }

    private static string FindRoot()
    {
        string root = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(root, "CardScan.sln"))) root = Path.GetDirectoryName(root)!;
        return root;
    }
}
