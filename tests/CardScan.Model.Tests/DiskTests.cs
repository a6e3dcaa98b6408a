using CardScan.Language;

namespace CardScan.Model.Tests;

public sealed class DiskTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Halves_of_one_file_that_nobody_writes_any_more_are_deleted_and_nothing_else()
    {
        string id = new('a', 32);
        string[] left = [$".report.html.{id}.part", $"report.html.{id}.part"];
        string[] stay =
        [
            $".other.html.{id}.part", $".report.html.{id}.old", ".report.html.part", $".report.html.{id}a.part", "report.html",
            $".report-html.{id}.part",
        ];
        foreach (string name in left.Concat(stay)) Write(name, hours: 2);
        string young = $".report.html.{new string('b', 32)}.part";
        Write(young, hours: 0);

        LeftParts.Sweep(_folder, "report.html");

        Assert.Equal(stay.Append(young).Order(StringComparer.Ordinal),
            Directory.EnumerateFiles(_folder).Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal));
        LeftParts.Sweep(Path.Combine(_folder, "not there"), "report.html");
    }

    [Fact]
    public void A_full_disk_is_told_from_other_faults_and_names_its_place()
    {
        Refusal other = Refusal.OfInput(Codes.OutEmpty);
        Assert.Same(other, DiskFault.Of(new UnauthorizedAccessException("no"), "/x", "output", () => other));
        Assert.Same(other, DiskFault.Of(new IOException("no", 30), "/x", "output", () => other));
        Refusal full = DiskFault.Of(new IOException("No space left on device", 28), "/x", "output", () => other);
        Assert.Equal(("The disk of /x is full.", "Free some space there, or give another folder with --out."), (full.Seen, full.Remedy));
        Assert.Contains("TMPDIR", DiskFault.OfTemporary(new IOException("full", 28)).Remedy, StringComparison.Ordinal);
        Assert.Equal(Codes.TemporaryUnwritable, DiskFault.OfTemporary(new IOException("no", 5)).Code);
    }

    /// <summary>The system's own word for it, on the device that is always full.</summary>
    [Fact]
    public void What_the_system_says_of_a_full_disk_is_understood()
    {
        if (!OperatingSystem.IsLinux())
        {
            Assert.True(DiskFault.IsFull(new IOException("", unchecked((int)0x80070070))));
            return;
        }

        Exception e = Assert.ThrowsAny<Exception>(() =>
        {
            using FileStream full = new("/dev/full", FileMode.Open, FileAccess.Write, FileShare.ReadWrite, bufferSize: 0);
            full.Write("x"u8);
        });
        Assert.True(DiskFault.IsFull(e), $"{e.GetType()} {e.HResult}: {e.Message}");
    }

    private void Write(string name, int hours)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, "half");
        File.SetLastWriteTimeUtc(path, DateTime.UtcNow.AddHours(-hours));
    }
}
