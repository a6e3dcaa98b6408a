namespace CardScan.Cli.Tests;

/// <summary>The seam by which a command stands in another folder than the process.</summary>
public sealed class WorkingFolderTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void Files_and_folders_are_those_of_the_folder_and_a_name_in_the_archive_stays_one()
    {
        HostEnvironment there = new(null, "profiles", TimeProvider.System) { WorkingFolder = _scratch["."] };
        _scratch.Write("photo.jpg", "");
        Assert.Equal(Path.Combine(_scratch["."], "photo.jpg"), there.Found("photo.jpg"));
        Assert.Equal("r12", there.Found("r12"));
        Assert.Equal(Path.Combine(_scratch["."], "*.jpg"), there.Found("*.jpg"));
        Assert.Equal(Path.Combine(_scratch["."], "card-17"), there.At("card-17"));
        Assert.Equal("", there.At(""));
    }

    [Fact]
    public void The_process_itself_leaves_paths_as_they_were_typed()
    {
        HostEnvironment here = HostEnvironment.OfProcess();
        foreach (string path in (string[])["photo.jpg", "./card-17", "../x/*.jpg", "/tmp"])
        {
            Assert.Equal(path, here.At(path));
            Assert.Equal(path, here.Found(path));
        }
    }
}
