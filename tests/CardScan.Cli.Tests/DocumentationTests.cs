using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using CardScan.Model;
using CardScan.Workflow.Tests;

namespace CardScan.Cli.Tests;

public partial class DocumentationTests
{
    private static readonly string Root = FindRoot();

    private static readonly string CutCard = Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");

    [Fact]
    public void The_gravity_of_every_warning_of_a_photo_is_known()
    {
        string section = Text("docs/messages.md").Split("\n## Warnings of a photo\n")[1].Split("\n## ")[0];
        string[] codes = [.. CodeInTable().Matches(section)
            .SelectMany(row => CodeInBackticks().Matches(row.Value)).Select(code => code.Groups["code"].Value)];
        Assert.True(codes.Length > 25, "the table was not found");
        Assert.All(codes, code => Assert.Equal(code, Judgement.Sorted([new("unheard-of", ""), new(code, "")]).First().Code));
    }

    [Fact]
    public void Every_field_of_the_three_files_is_documented()
    {
        string formats = Text("docs/formats.md");
        string[] missing = [.. RecordsIn([typeof(Plan), typeof(Reading), typeof(Comparison)]).SelectMany(FieldsOf).Distinct()
            .Where(field => !Regex.IsMatch(formats, $@"`([A-Za-z\[\]]+\.)*{field}(\[\])?(\.[A-Za-z.\[\]]+)?`", RegexOptions.ExplicitCapture,
                TimeSpan.FromSeconds(5)))];
        Assert.Empty(missing);
    }

    /// <summary>Where examples stand: the README, and the help of each command.</summary>
    public static TheoryData<string> Sources =>
    [
        "README", "profile", "demo", "plan", "read", "score", "compare", "next", "archive", "archive list", "archive find",
        "archive show", "settings", "archive note", "archive tag", "archive close", "archive export", "archive import", "archive copy",
        "archive verify", "archive repair", "archive prune", "archive rename", "archive record"
    ];

    [Theory]
    [MemberData(nameof(Sources))]
    public void Every_example_can_be_run(string source)
    {
        string text = source == "README" ? Text("README.md") : Cli.Run([.. source.Split(' '), "--help"]).Output;
        string[] examples = [.. Example().Matches(text).Select(match => match.Groups["line"].Value)
            // What serves ends when a person ends it; tests/CardScan.Web.Tests start it.
            .Where(line => !line.Contains('[', StringComparison.Ordinal) && !line.StartsWith("serve", StringComparison.Ordinal))];
        Assert.NotEmpty(examples);
        using Scratch scratch = new();
        scratch.Write("photo.jpg", File.ReadAllBytes(Cli.Photo));
        scratch.Write("photo-of-both.jpg", PhotoOfBoth.Of(Cli.Photo, Cli.SecondPhoto));
        foreach ((string name, string photo) in new[] { ("left", "left"), ("right", "right"), ("room-light", "front") })
            scratch.Write($"{name}.jpg", File.ReadAllBytes(Path.Combine(CutCard, $"lime-cut-{photo}.jpg")));

        foreach (string example in examples)
        {
            string[] words = Words(example);
            if (words[0] is not ("plan" or "profile")) BurnCards(scratch);
            if (words[0] is "score" or "next" && !File.Exists(scratch[words[1]]))
                Assert.Equal(0, Cli.RunIn(scratch["."], ["read", "photo.jpg", "--plan", "card-17/plan.json"]).Code);
            if (words is ["score", "card-21", ..]) ReadAlike(scratch);
            if (words[0] == "compare") ReadBatches(scratch);
            if (words[0] is "archive" or "settings" || (words[0] == "read" && !words.Contains("--plan")))
                Assert.Equal(0, Cli.RunIn(scratch["."], ["read", "photo.jpg", "--plan", "card-17/plan.json", "--json"]).Code);
            if (words is ["archive", "import", ..]) Assert.Equal(0, Cli.RunIn(scratch["."], ["archive", "export", words[2]]).Code);
            CliRun run = Cli.RunIn(scratch["."], words);
            Assert.True(run.Code == 0, $"{example}\n{run.Errors}");
        }
    }

    /// <summary>The examples' cards 17 and 19 are the two batches of the demo.</summary>
    private static void ReadBatches(Scratch scratch)
    {
        foreach ((string folder, string photo, string plan) in
            new[] { ("card-17", Cli.Photo, Cli.Plan), ("card-19", Cli.SecondPhoto, Cli.SecondPlan) })
        {
            if (!File.Exists(Path.Combine(scratch[folder], "reading.json")))
                Assert.Equal(0, Cli.RunIn(scratch["."], ["read", photo, "--plan", plan, "--out", folder]).Code);
        }
    }

    /// <summary>The examples' card 21 is card 17 burned once more.</summary>
    private static void ReadAlike(Scratch scratch)
    {
        Assert.Equal(0, Cli.RunIn(scratch["."], ["read", "photo.jpg", "--plan", "card-17/plan.json"]).Code);
        Reading reading = CardJson.ReadReading(File.ReadAllBytes(scratch["card-17/reading.json"])).Value;
        Fiducials fiducials = reading.Plan.Fiducials with
        {
            Markers = reading.Plan.Fiducials.Markers.Select(marker => marker with { Id = marker.Id + 16 }).ToValueList()
        };
        Directory.CreateDirectory(scratch["card-21"]);
        scratch.Write("card-21/reading.json", CardJson.Write(reading with
        {
            Plan = reading.Plan with { Number = 21, Fiducials = fiducials },
            PlanSha256 = null
        }));
    }

    /// <summary>
    /// The examples' cards 17 and 18 are those that were photographed: their plans take the place of what the examples planned.
    /// </summary>
    private static void BurnCards(Scratch scratch)
    {
        foreach ((string folder, string plan) in new[] { ("card-17", Cli.Plan), ("card-18", Path.Combine(CutCard, "plan.json")) })
        {
            Directory.CreateDirectory(scratch[folder]);
            File.Copy(plan, Path.Combine(scratch[folder], "plan.json"), overwrite: true);
        }
    }

    [Fact]
    public void The_plan_that_the_README_reads_with_is_the_one_that_it_made()
    {
        using Scratch scratch = new();
        string[][] examples = [.. Example().Matches(Text("README.md")).Select(match => Words(match.Groups["line"].Value))];
        Assert.Equal(0, Cli.RunIn(scratch["."], examples.First(words => words[0] == "plan")).Code);
        string[] read = examples.First(words => words[0] == "read");
        Assert.True(File.Exists(scratch[read[Array.IndexOf(read, "--plan") + 1]]));
    }

    [Fact]
    public void The_scripts_that_the_README_names_are_there_and_may_be_run()
    {
        foreach (string script in (string[])["src/run-demo", "tests/run"])
        {
            Assert.Contains($"\n{script}\n", Text("README.md"), StringComparison.Ordinal);
            Assert.True(
                OperatingSystem.IsWindows() || File.GetUnixFileMode(Path.Combine(Root, script)).HasFlag(UnixFileMode.UserExecute), script);
        }
    }

    private static IEnumerable<Type> RecordsIn(IEnumerable<Type> roots)
    {
        Queue<Type> open = new(roots);
        HashSet<Type> seen = [];
        while (open.TryDequeue(out Type? type))
        {
            if (!seen.Add(type)) continue;
            yield return type;
            foreach (Type inner in
                Properties(type).SelectMany(property => property.PropertyType.GenericTypeArguments.Append(property.PropertyType)))
            {
                if (inner.IsSubclassOf(typeof(Extensible))) open.Enqueue(inner);
            }
        }
    }

    private static IEnumerable<string> FieldsOf(Type type) =>
        Properties(type).Select(property => JsonNamingPolicy.CamelCase.ConvertName(property.Name));

    private static IEnumerable<PropertyInfo> Properties(Type type) => type.GetProperties()
        .Where(property => property.Name != nameof(Extensible.Unknown)
            && property.GetCustomAttribute<System.Text.Json.Serialization.JsonIgnoreAttribute>()
                is not { Condition: System.Text.Json.Serialization.JsonIgnoreCondition.Always });

    private static string[] Words(string line) => [.. Word().Matches(line).Select(match => match.Value.Trim('"')).Skip(1)];

    private static string Text(string name) => File.ReadAllText(Path.Combine(Root, name));

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "CardScan.sln"))) folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("These tests run inside a clone of the repository.");
    }

    [GeneratedRegex(@"^\| `[^|]*\|", RegexOptions.Multiline, 5000)]
    private static partial Regex CodeInTable();

    [GeneratedRegex("`(?<code>[a-z0-9-]+)`", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex CodeInBackticks();

    [GeneratedRegex(@"^ *(?<line>cardscan (profile|demo|plan|read|score|compare|next|settings|archive) .*?)\s*$",
        RegexOptions.Multiline | RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Example();

    [GeneratedRegex("\"[^\"]*\"|[^ ]+", RegexOptions.None, 5000)]
    private static partial Regex Word();
}
