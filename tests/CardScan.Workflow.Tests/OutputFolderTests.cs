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
    public void A_file_in_a_folder_of_its_own_makes_that_folder_and_nothing_else_remains_there()
    {
        Outcome<ValueList<string>> written = OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "x"), NewFile.OfText("parts/b.txt", "y")]);
        Assert.Equal([Path.Combine(Folder, "a.txt"), Path.Combine(Folder, "parts", "b.txt")], written.Value);
        Assert.Equal([written.Value[1]], Directory.GetFileSystemEntries(Path.Combine(Folder, "parts")));
        Assert.True(OutputFolder.Write(Folder, [NewFile.OfText("more/c.txt", "x"), NewFile.OfText("b\0.txt", "x")]).IsRefused);
        Assert.False(Directory.Exists(Path.Combine(Folder, "more")));
    }

    [Fact]
    public void When_one_file_cannot_be_written_none_is_and_what_was_there_stays()
    {
        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "a.txt"), "old");
        Outcome<ValueList<string>> written =
            OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "new"), NewFile.OfText("b\0.txt", "x")]);
        Assert.Equal(RefusalKind.UnusablePlace, written.Refusal!.Kind);
        Assert.Equal("old", File.ReadAllText(Path.Combine(Folder, "a.txt")));
        Assert.Single(Directory.GetFileSystemEntries(Folder));
    }

    [Fact]
    public void A_folder_made_in_vain_is_taken_away_again()
    {
        Assert.True(OutputFolder.Write(Folder, [NewFile.OfText("b\0.txt", "x")]).IsRefused);
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

    [Theory]
    [InlineData(1)] // nothing is moved yet
    [InlineData(2)] // an old file is aside
    [InlineData(4)] // all old files are aside
    [InlineData(5)] // the first new file is in its place
    public void A_rename_that_fails_in_the_middle_leaves_the_earlier_files_whole(int failing)
    {
        Directory.CreateDirectory(Folder);
        foreach (string name in (string[])["a.txt", "b.txt", "gone.txt"]) File.WriteAllText(Path.Combine(Folder, name), $"old {name}");
        int moves = 0;
        Outcome<ValueList<string>> written = OutputFolder.Write(
            Folder, [NewFile.OfText("a.txt", "new"), NewFile.OfText("b.txt", "new"), NewFile.OfText("c.txt", "new")], ["gone.txt"], Move);
        Assert.Equal("folder-unwritable", written.Refusal!.Code);
        Assert.Equal(
            ["a.txt", "b.txt", "gone.txt"], Directory.GetFileSystemEntries(Folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.All(Directory.GetFiles(Folder), file => Assert.Equal($"old {Path.GetFileName(file)}", File.ReadAllText(file)));

        void Move(string from, string to)
        {
            if (++moves == failing) throw new IOException("held by another program");
            File.Move(from, to);
        }
    }

    [Fact]
    public void Where_even_putting_back_fails_the_message_tells_where_the_earlier_file_is()
    {
        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "a.txt"), "old");
        int moves = 0;
        Outcome<ValueList<string>> written = OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "new")], [], Move);
        string kept = Assert.Single(Directory.GetFiles(Folder));
        Assert.Equal("old", File.ReadAllText(kept));
        Assert.Contains(Path.GetFileName(kept), written.Refusal!.ToString(), StringComparison.Ordinal);

        void Move(string from, string to)
        {
            if (++moves > 1) throw new IOException("the disk is gone");
            File.Move(from, to);
        }
    }

    [Fact]
    public void A_folder_in_the_place_of_one_file_stops_all_of_them()
    {
        Directory.CreateDirectory(Path.Combine(Folder, "b.txt"));
        File.WriteAllText(Path.Combine(Folder, "a.txt"), "old");
        Outcome<ValueList<string>> written = OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "new"), NewFile.OfText("b.txt", "new")]);
        Assert.Contains("b.txt is a folder", written.Refusal!.Seen, StringComparison.Ordinal);
        Assert.Equal("old", File.ReadAllText(Path.Combine(Folder, "a.txt")));
        Assert.Equal(2, Directory.GetFileSystemEntries(Folder).Length);
    }

    [Fact]
    public void Files_that_are_obsolete_go_with_the_earlier_ones()
    {
        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "gone.txt"), "old");
        Assert.False(OutputFolder.Write(Folder, [NewFile.OfText("a.txt", "new")], ["gone.txt", "never-there.txt"]).IsRefused);
        Assert.Equal(["a.txt"], Directory.GetFileSystemEntries(Folder).Select(Path.GetFileName));
    }
}
