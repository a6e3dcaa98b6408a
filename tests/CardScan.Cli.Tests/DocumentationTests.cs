using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Cli.Tests;

public partial class DocumentationTests
{
    private static readonly string Root = FindRoot();

    [Fact]
    public void Every_code_in_the_sources_is_documented_and_every_documented_code_exists()
    {
        string[] used = [.. UsedCodes().Distinct().Order(StringComparer.Ordinal)];
        string[] documented = [.. CodeInTable().Matches(Text("docs/messages.md")).SelectMany(row => CodeInBackticks().Matches(row.Value)).Select(code => code.Groups["code"].Value).Distinct().Order(StringComparer.Ordinal)];
        Assert.True(used.Length > 50, "the scan finds too few codes to be right");
        Assert.Empty(used.Except(documented));
        Assert.Empty(documented.Except(used));
    }

    [Fact]
    public void Every_field_of_the_two_files_is_documented()
    {
        string formats = Text("docs/formats.md");
        string[] missing = [.. RecordsIn([typeof(Plan), typeof(Reading)]).SelectMany(FieldsOf).Distinct()
            .Where(field => !Regex.IsMatch(formats, $@"`([A-Za-z\[\]]+\.)*{field}(\[\])?(\.[A-Za-z.\[\]]+)?`", RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(5)))];
        Assert.Empty(missing);
    }

    /// <summary>Where examples stand: the README, and the help of each command.</summary>
    public static TheoryData<string> Sources => ["README", "demo", "plan", "read", "score"];

    [Theory]
    [MemberData(nameof(Sources))]
    public void Every_example_can_be_run(string source)
    {
        string text = source == "README" ? Text("README.md") : Cli.Run(source, "--help").Output;
        string[] examples = [.. Example().Matches(text).Select(match => match.Groups["line"].Value).Where(line => !line.Contains('[', StringComparison.Ordinal))];
        Assert.NotEmpty(examples);
        using Scratch scratch = new();
        byte[] photo = File.ReadAllBytes(Cli.Photo);
        scratch.Write("plan.json", File.ReadAllBytes(Cli.Plan));
        scratch.Write("photo.jpg", photo);
        // Other files of the same picture: bytes after a JPEG's end are not part of it.
        foreach (string name in (string[])["left", "right", "front"]) scratch.Write($"{name}.jpg", [.. photo, .. System.Text.Encoding.ASCII.GetBytes(name)]);
        Assert.Equal(0, RunIn(scratch["."], ["read", "photo.jpg", "--plan", "plan.json"]).Code);

        foreach (string example in examples)
        {
            CliRun run = RunIn(scratch["."], Words(example));
            Assert.True(run.Code == 0, $"{example}\n{run.Errors}");
        }
    }

    [Fact]
    public void The_scripts_that_the_README_names_are_there_and_may_be_run()
    {
        foreach (string script in (string[])["src/run-demo", "tests/run"])
        {
            Assert.Contains($"\n{script}\n", Text("README.md"), StringComparison.Ordinal);
            Assert.True(OperatingSystem.IsWindows() || File.GetUnixFileMode(Path.Combine(Root, script)).HasFlag(UnixFileMode.UserExecute), script);
        }
    }

    private static IEnumerable<string> UsedCodes()
    {
        IEnumerable<string> sources = Directory.EnumerateFiles(Path.Combine(Root, "src"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal));
        foreach (string file in sources)
        {
            string text = File.ReadAllText(file);
            foreach (Match match in RefusalCode().Matches(text))
            {
                string code = match.Groups["code"].Value;
                if (code.StartsWith("{what}", StringComparison.Ordinal)) foreach (string what in (string[])["plan", "reading"]) yield return code.Replace("{what}", what, StringComparison.Ordinal);
                else yield return code;
            }

            if (!file.Contains("CardScan.Vision", StringComparison.Ordinal) && !file.Contains("CardScan.Scoring", StringComparison.Ordinal)) continue;
            // A warning or a piece of advice: a code, then a sentence.
            foreach (Match match in WarningOrAdvice().Matches(text)) yield return match.Groups["code"].Value;
            foreach (Match match in WarningOfFlag().Matches(text))
                foreach (string flag in (string[])[CellFlag.Glare, CellFlag.Clipped, CellFlag.OutOfFrame]) yield return match.Groups["start"].Value + flag;
        }

        foreach (FieldInfo flag in typeof(CellFlag).GetFields(BindingFlags.Public | BindingFlags.Static)) yield return (string)flag.GetRawConstantValue()!;
    }

    private static IEnumerable<Type> RecordsIn(IEnumerable<Type> roots)
    {
        Queue<Type> open = new(roots);
        HashSet<Type> seen = [];
        while (open.TryDequeue(out Type? type))
        {
            if (!seen.Add(type)) continue;
            yield return type;
            foreach (Type inner in Properties(type).SelectMany(property => property.PropertyType.GenericTypeArguments.Append(property.PropertyType)))
            {
                if (inner.IsSubclassOf(typeof(Extensible))) open.Enqueue(inner);
            }
        }
    }

    private static IEnumerable<string> FieldsOf(Type type) => Properties(type).Select(property => JsonNamingPolicy.CamelCase.ConvertName(property.Name));

    private static IEnumerable<PropertyInfo> Properties(Type type) => type.GetProperties()
        .Where(property => property.Name != nameof(Extensible.Unknown) && property.GetCustomAttribute<System.Text.Json.Serialization.JsonIgnoreAttribute>() is not { Condition: System.Text.Json.Serialization.JsonIgnoreCondition.Always });

    private static CliRun RunIn(string folder, string[] args)
    {
        System.Diagnostics.ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "cardscan.dll"), .. args])
        {
            WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true, UseShellExecute = false,
        };
        using System.Diagnostics.Process process = System.Diagnostics.Process.Start(start)!;
        process.StandardInput.Close();
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return new(process.ExitCode, output, errors.GetAwaiter().GetResult());
    }

    private static string[] Words(string line) => [.. Word().Matches(line).Select(match => match.Value.Trim('"')).Skip(1)];

    private static string Text(string name) => File.ReadAllText(Path.Combine(Root, name));

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "CardScan.sln"))) folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("These tests run inside a clone of the repository.");
    }

    [GeneratedRegex("""Of(Input|Photo|Place)\(\s*\$?"(?<code>[^"]+)"\s*,""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex RefusalCode();

    // Not followed by a number: that would be a figure of the fit.
    [GeneratedRegex("""new( Warning| Advice)?\(\s*"(?<code>[a-z]+(-[a-z0-9]+)*)",(?!\s*(0|[a-zA-Z]+\.))""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex WarningOrAdvice();

    [GeneratedRegex("""new( Warning)?\(\s*\$"(?<start>[a-z-]+)\{flag\}\x22""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex WarningOfFlag();

    [GeneratedRegex(@"^\| `[^|]*\|", RegexOptions.Multiline, 5000)]
    private static partial Regex CodeInTable();

    [GeneratedRegex("`(?<code>[a-z0-9-]+)`", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex CodeInBackticks();

    [GeneratedRegex(@"^ *(?<line>cardscan (demo|plan|read|score) .*?)\s*$", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Example();

    [GeneratedRegex("\"[^\"]*\"|[^ ]+", RegexOptions.None, 5000)]
    private static partial Regex Word();
}
