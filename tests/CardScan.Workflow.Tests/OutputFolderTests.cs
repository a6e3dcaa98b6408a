using CardScan.Model;

namespace CardScan.Workflow.Tests;

public sealed class OutputFolderTests : IDisposable
{
    private readonly string _scratch = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    private string Folder => Path.Combine(_scratch, "out");

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    [Fact]
    public void Files_are_written_whole_under_their_names_and_nothing_else_remains()
    {
        Outcome<ValueList<string>> written = OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "ä"), new("b.bin", [1, 2])]);
        Assert.Equal([Path.Combine(Folder, "a.txt"), Path.Combine(Folder, "b.bin")], written.Value);
        Assert.Equal("ä"u8.ToArray(), File.ReadAllBytes(written.Value[0]));
        Assert.Equal(2, Directory.GetFileSystemEntries(Folder).Length);
    }

    [Fact]
    public void When_one_file_cannot_be_written_none_is_and_what_was_there_stays()
    {
        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "a.txt"), "old");
        Outcome<ValueList<string>> written = OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "new"), NewFile.OfText("missing/b.txt", "x")]);
        Assert.Equal(RefusalKind.UnusablePlace, written.Refusal!.Kind);
        Assert.Equal("old", File.ReadAllText(Path.Combine(Folder, "a.txt")));
        Assert.Single(Directory.GetFileSystemEntries(Folder));
    }

    [Fact]
    public void A_folder_made_in_vain_is_taken_away_again()
    {
        Assert.True(OutputFolder.Write(Folder, [NewFile.OfText("missing/b.txt", "x")]).IsRefused);
        Assert.False(Directory.Exists(Folder));
    }

    [Fact]
    public void A_failure_while_the_files_are_made_leaves_nothing()
    {
        Assert.Throws<InvalidOperationException>(() => OutputFolder.Write(Folder, Failing()));
        Assert.False(Directory.Exists(Folder));

        static IEnumerable<NewFile> Failing()
        {
            yield return NewFile.OfText("a.txt", "x");
            throw new InvalidOperationException();
        }
    }
}
