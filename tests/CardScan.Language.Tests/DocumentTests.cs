namespace CardScan.Language.Tests;

public class DocumentTests
{
    [Fact]
    public void The_page_of_messages_is_as_the_language_file_makes_it()
    {
        Dictionary<string, string> exits = Sources.Said.Where(said => said.ExitCode is not null).GroupBy(said => said.Code)
            .ToDictionary(group => group.Key, group => string.Join(", ", group.Select(said => said.ExitCode).Distinct().Order()));
        string path = Path.Combine(Sources.Root, "docs", "messages.md"), made = MessagesPage.Make(exits);
        if (Environment.GetEnvironmentVariable("CARDSCAN_WRITE_DOCS") == "1") File.WriteAllText(path, made);

        Assert.Equal(made, File.ReadAllText(path));
    }
}
