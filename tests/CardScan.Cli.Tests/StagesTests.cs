namespace CardScan.Cli.Tests;

/// <summary>What the command line knows of the rest.</summary>
public class StagesTests
{
    [Fact]
    public void The_command_line_knows_the_workflow_the_page_the_records_and_the_language_alone() =>
        Assert.Equal(
            ["CardScan.Language", "CardScan.Model", "CardScan.Web", "CardScan.Workflow"],
            typeof(Application).Assembly.GetReferencedAssemblies().Select(name => name.Name!)
                .Where(name => name.StartsWith("CardScan.", StringComparison.Ordinal)).Order());
}
