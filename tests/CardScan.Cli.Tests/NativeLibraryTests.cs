using System.Diagnostics;
using CardScan.Model;
using CardScan.Workflow;
using ELFSharp.ELF;
using ELFSharp.ELF.Sections;
using Process = System.Diagnostics.Process;

namespace CardScan.Cli.Tests;

/// <summary>OpenCV's library loads on a system that has nothing but the C and C++ runtime libraries.</summary>
public class NativeLibraryTests
{
    /// <summary>What the package's own file asks for besides.</summary>
    private static readonly string[] Hidden =
    [
        "libfreetype.so.6", "libharfbuzz.so.0", "libgtk-3.so.0", "libgdk-3.so.0", "libpangocairo-1.0.so.0", "libpango-1.0.so.0",
        "libatk-1.0.so.0", "libcairo-gobject.so.2", "libcairo.so.2", "libgdk_pixbuf-2.0.so.0", "libgio-2.0.so.0",
        "libgobject-2.0.so.0", "libglib-2.0.so.0", "libdrm.so.2", "libatomic.so.1", "libX11.so.6",
    ];

    private static string Shipped =>
        Assert.Single(Directory.GetFiles(AppContext.BaseDirectory, "libOpenCvSharpExtern.so", SearchOption.AllDirectories));

    [Fact]
    public void It_needs_the_runtime_libraries_of_C_and_CPlusPlus_and_no_others()
    {
        using ELF<ulong> file = ELFReader.Load<ulong>(Shipped);
        DynamicSection<ulong> dynamic = Assert.Single(file.GetSections<DynamicSection<ulong>>());
        byte[] names = file.GetSection(".dynstr").GetContents();
        IEnumerable<string> needed =
            dynamic.Entries.Where(entry => entry.Tag == DynamicTag.Needed).Select(entry => Name(names, (int)entry.Value));
        Assert.Equal(
            [
                "ld-linux-x86-64.so.2", "libc.so.6", "libdl.so.2", "libgcc_s.so.1", "libm.so.6", "libpthread.so.0", "librt.so.1",
                "libstdc++.so.6",
            ],
            needed.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void The_demo_runs_where_the_other_libraries_are_hidden()
    {
        using Scratch scratch = new();
        Directory.CreateDirectory(scratch["hidden"]);
        // The loader takes the first file of a name, and an empty one ends its search.
        foreach (string library in Hidden) File.WriteAllBytes(Path.Combine(scratch["hidden"], library), []);
        (string Name, string Value) hiding = ("LD_LIBRARY_PATH", scratch["hidden"]);

        CliRun preloaded = Started("true", [], hiding, ("LD_PRELOAD", string.Join(':', Hidden)));
        Assert.Equal(Hidden.Length, preloaded.Errors.Split("file too short").Length - 1);

        CliRun demo = Started(Program, ["demo", "--out", scratch["demo"]], hiding);
        Assert.True(demo.Code == 0, demo.Errors);
        Assert.True(File.Exists(Path.Combine(scratch["demo"], "comparison.html")));
    }

    [Fact]
    public void A_loader_that_binds_at_once_is_named()
    {
        CliRun run = Started(Program, ["read", Cli.Photo, "--plan", Cli.Plan, "--no-archive", "--json"], ("LD_BIND_NOW", "1"));
        Assert.Equal(1, run.Code);
        Assert.Contains("Unset LD_BIND_NOW, then try again.", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Contains("undefined symbol", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_system_without_OpenSSL_is_told_so_by_every_command()
    {
        using Scratch scratch = new();
        Directory.CreateDirectory(scratch["hidden"]);
        foreach (string library in (string[])["libssl.so.3", "libssl.so.1.1"])
            File.WriteAllBytes(Path.Combine(scratch["hidden"], library), []);
        foreach (string command in (string[])["checkup", "units"])
        {
            CliRun run = Started(Program, [command], ("LD_LIBRARY_PATH", scratch["hidden"]));
            Assert.Equal(1, run.Code);
            Assert.StartsWith("cardscan: OpenSSL is missing on this computer (libssl.so.3).", run.OnlyLine(), StringComparison.Ordinal);
        }
    }

    // What .NET 10 on Debian 12 says where the file is not there, where one that it needs is not, and where it is no library.
    [Theory]
    [InlineData("/app/libOpenCvSharpExtern.so: cannot open shared object file: No such file or directory", "missing", "CardScan again.")]
    [InlineData("libstdc++.so.6: cannot open shared object file: No such file or directory", "libstdc++.so.6: cannot open", "libstdc++6")]
    [InlineData("/app/libOpenCvSharpExtern.so: file too short", "file too short", "install CardScan again.")]
    public void What_the_loader_says_leads_to_a_cure(string told, string seen, string cure)
    {
        DllNotFoundException loader = new(
            "Unable to load shared library 'OpenCvSharpExtern' or one of its dependencies. In order to help diagnose loading problems, "
            + "consider using a tool like strace. If you're using glibc, consider setting the LD_DEBUG environment variable: \n"
            + "/app/OpenCvSharpExtern.so: cannot open shared object file: No such file or directory\n" + told + "\n"
            + "/app/OpenCvSharpExtern: cannot open shared object file: No such file or directory\n");
        Refusal? refusal = LibraryFault.Of(new AggregateException(new TypeInitializationException("Cv2", loader)));
        Assert.Contains(seen, refusal!.Seen, StringComparison.Ordinal);
        Assert.Contains(cure, refusal.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1.0, false)]
    [InlineData(0.5, true)]
    [InlineData(0.0, true)]
    public void A_library_that_was_cut_short_is_told_before_it_is_loaded(double share, bool isDamaged)
    {
        using Scratch scratch = new();
        string copy = scratch["libe_sqlite3.so"];
        byte[] whole = File.ReadAllBytes(
            Assert.Single(Directory.GetFiles(AppContext.BaseDirectory, "libe_sqlite3.so", SearchOption.AllDirectories)));
        File.WriteAllBytes(copy, whole[..(int)(share * whole.Length)]);
        Refusal? damage = InstalledFiles.Damage(scratch["."]);
        Assert.Equal(isDamaged, damage is not null);
        if (isDamaged) Assert.Contains("libe_sqlite3.so", damage!.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_fault_is_none_of_a_library() => Assert.Null(LibraryFault.Of(new InvalidOperationException("x", new IOException())));

    private static string Program => Path.Combine(AppContext.BaseDirectory, "cardscan.dll");

    private static string Name(byte[] names, int at) =>
        System.Text.Encoding.ASCII.GetString(names, at, Array.IndexOf(names, (byte)0, at) - at);

    /// <summary>Runs a program of the system, or CardScan, as a process of its own.</summary>
    private static CliRun Started(string program, string[] args, params (string Name, string Value)[] environment)
    {
        ProcessStartInfo start = program == Program ? new("dotnet", [program, .. args]) : new(program, args);
        start.RedirectStandardOutput = start.RedirectStandardError = true;
        foreach ((string name, string value) in environment) start.Environment[name] = value;
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return new(process.ExitCode, output, errors.Result);
    }
}
