using System.Text.RegularExpressions;
using System.Xml.Linq;
using CardScan.Language;

namespace CardScan.Cli.Tests;

/// <summary>
/// A language whose every letter is a full-width one runs through commands and pages. A plain letter that still shows
/// was not said by the language file: it must be a command, an option, a code, a file or a card's own text.
/// </summary>
public sealed partial class PseudoLanguageTests : IDisposable
{
    private const char FullWidth = (char)('Ａ' - 'A');

    private static readonly LanguageFile Widened = LanguageFile.English.Map("qps-ploc", Widen);

    private static readonly string[] Commands =
    [
        "", "plan", "carry", "history", "greys", "read", "queue", "work", "score", "next", "compare", "demo", "profile", "profile machine",
        "profile material", "profile list",
        "profile show", "profile edit", "profile default", "profile remove", "units", "checkup", "completion", "man", "serve",
        "archive", "archive list", "archive show", "archive find", "settings", "archive phones", "archive export", "archive import",
        "archive copy", "archive verify", "archive repair", "archive prune", "archive rename", "archive note", "archive tag",
        "archive close", "archive record", "members", "members invite", "members role", "members remove",
    ];

    /// <summary>What the cards of the fixtures are called, and values that are given on a command line.</summary>
    private static readonly HashSet<string> Names =
    [
        .. "Birch plywood power by speed the next delivery workshop diode optical Lime mm birch lime board Tidewater bench".Split(' '),
        .. Commands.SelectMany(command => command.Split(' ')),
        .. "bash zsh fish powershell batch".Split(' '),
        .. "look add keep".Split(' '),
        .. "grid focus engrave cut on off constant follows from hand letter front back comparison tmp cardscan test archive".Split(' '),
    ];

    /// <summary>What no language translates.</summary>
    private static readonly Regex[] Untranslated = [CommandLines, FileNames, Codes, OfTheLibrary, Variables, Options];

    private readonly Scratch _scratch = new();
    private readonly IDisposable _spoken = Voice.Speak(Widened);

    [GeneratedRegex(@"^ +(?:cardscan|testhost) .*$", RegexOptions.Multiline)]
    private static partial Regex CommandLines { get; }

    [GeneratedRegex(@"--?[a-z?][a-z-]*")]
    private static partial Regex Options { get; }

    [GeneratedRegex(@"CARDSCAN_[A-Z_]+")]
    private static partial Regex Variables { get; }

    [GeneratedRegex(@"[^\s"";]*/[^\s"";]*|[\w-]+\.(?:json|svg|png|jpg|html|csv|gcode|zip)\b")]
    private static partial Regex FileNames { get; }

    [GeneratedRegex(
        @"\b(?:fastest-full-mark|darkest|sure-cut|clean-cut|sure|unsure)\b|\b[0-9a-f]{6,64}\b|#[0-9A-F]{6}\b|\[[a-z0-9-]+\]")]
    private static partial Regex Codes { get; }

    /// <summary>Words of the library that reads the command line; it brings its own translations.</summary>
    [GeneratedRegex(
        @"^(?:Description|Usage|Options|Arguments|Commands):$|Show (?:help and usage|version) information|"
            + @"\(REQUIRED\)|\[default:|Option '.*' is required",
        RegexOptions.Multiline)]
    private static partial Regex OfTheLibrary { get; }

    [GeneratedRegex("[A-Za-z]{2,}")]
    private static partial Regex PlainWord { get; }

    public static TheoryData<string> Helps => [.. Commands];

    public void Dispose()
    {
        _spoken.Dispose();
        _scratch.Dispose();
    }

    [Theory]
    [MemberData(nameof(Helps))]
    public void Help(string command)
    {
        CliRun run = Run([.. command.Split(' ', StringSplitOptions.RemoveEmptyEntries), "--help"]);
        Assert.Equal(0, run.Code);
        AssertWidened(run.Output);
    }

    [Fact]
    public void Engraved_cards_from_the_plan_to_the_archive()
    {
        AssertRuns(
            "plan", "--material", "12", "--watts", "10", "--wavelength", "450", "--area", "400x400", "--fastest-feed", "6000",
            "--full-power-s", "1000", "--power", "20:80:4", "--speed", "1000:3000:3", "--out", _scratch["plan"]);
        AssertRuns("plan", "--material", "birch", "--thickness", "3", "--watts", "10", "--cut", "--out", _scratch["first"]);
        AssertRuns("read", Cli.Photo, "--plan", Cli.Plan, "--out", _scratch["read"], "--tones", "5");
        AssertRuns("read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", _scratch["second"]);
        AssertRuns("score", _scratch["read/reading.json"], "--out", _scratch["scored"]);
        AssertRuns("next", "17", "--out", _scratch["next"]);
        AssertRuns("compare", "r1", "r2", "--out", _scratch["compared"]);
        AssertRuns("greys", "--out", _scratch["strip"]);
        AssertRuns("archive", "list");
        AssertRuns("archive", "show", "17");
        AssertRuns("archive", "find", "--process", "engrave");
        AssertRuns("settings", "Birch");
        AssertRuns("archive", "rename", "machine", "workshop diode, 10 W optical", "7");
        AssertRuns("archive", "rename");
        AssertRuns("archive", "rename", "machine", "workshop diode, 10 W optical", "--undo");
        AssertRuns("archive", "phones");
        AssertRuns("archive", "note", "r1", "7");
        AssertRuns("archive", "tag", "r1", "7");
        AssertRuns("archive", "verify");
        AssertRuns("archive", "export", _scratch["all.zip"]);
        AssertRuns("archive", "prune", "r1");
        AssertRuns("archive", "close", "c1");
        AssertWidenedFiles();
    }

    [Fact] // They are in plain letters, so that full-width ones become plain: a sign stands for every letter here.
    public void Machine_files()
    {
        using IDisposable spoken = Voice.Speak(LanguageFile.English.Map("qps-plocm", Sign));
        AssertRuns(
            "plan", "--material", "12", "--watts", "10", "--wavelength", "450", "--area", "400x400", "--fastest-feed", "6000",
            "--full-power-s", "1000", "--power", "60:90:3", "--speed", "100:300:3", "--cut", "--thickness", "3", "--passes", "2",
            "--air", "on", "--focus-step", "1", "--focus-offset=-1", "--out", _scratch["plan"]);
        foreach (string file in (string[])["card.gcode", "outline.gcode"])
        {
            string[] comments = [.. File.ReadLines(_scratch[$"plan/{file}"]).Where(line => line.StartsWith('('))];
            Assert.NotEmpty(comments);
            // The word that makes a comment a message is the format's.
            Assert.All(comments, comment => Assert.DoesNotMatch(PlainWord, comment.Replace("(MSG,", "(", StringComparison.Ordinal)));
        }
    }

    [Fact]
    public void A_cut_card()
    {
        string folder = Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");
        AssertRuns(
            ["read", .. Directory.GetFiles(folder, "*.jpg"), "--plan", Path.Combine(folder, "plan.json"), "--out", _scratch["read"]]);
        AssertRuns("next", "r1", "--out", _scratch["next"]);
        AssertWidenedFiles();
    }

    [Fact]
    public void What_is_refused()
    {
        string picture = _scratch.Write("12.jpg", "no picture");
        string[][] wrong =
        [
            ["read", picture], ["read", _scratch["13.jpg"]], ["read", Cli.Photo], ["read", Cli.SecondPhoto, "--plan", Cli.Plan],
            ["read", Cli.Photo, "--plan", picture], ["read", Cli.Photo, "--plan", Cli.Plan, "--tones", "1"], ["score", Cli.Plan],
            ["plan", "--material", "12", "--power", "140", "--speed", "10:20:3", "--watts", "10"],
            ["plan", "--material", "12", "--power", "20:80:4", "--speed", "10:20:3", "--watts", "1,5"], ["plan"], ["42"],
            ["compare", "r1", "r2"], ["archive", "show", "99"], ["archive", "import", picture], ["next", "99"],
        ];
        foreach (string[] args in wrong)
        {
            CliRun run = Run(args);
            Assert.NotEqual(0, run.Code);
            AssertWidened(run.Errors);
        }
    }

    private void AssertRuns(params string[] args)
    {
        CliRun run = Run(args);
        Assert.True(run.Code == 0, run.Errors);
        AssertWidened(run.Output + run.Errors);
    }

    private CliRun Run(params string[] args) => Cli.RunIn(_scratch[""], args);

    /// <summary>Pages and drawings, with what is read aloud of them.</summary>
    private void AssertWidenedFiles()
    {
        string[] files =
            [.. _scratch.Files.Where(file => !file.StartsWith("archive", StringComparison.Ordinal)).Select(file => _scratch[file])];
        foreach (string page in files.Where(file => Path.GetExtension(file) is ".html" or ".svg")) AssertWidened(TextsOf(page));
    }

    private static string TextsOf(string page)
    {
        XElement[] elements = [.. XDocument.Load(page).Descendants().Where(element => element.Name.LocalName != "style")];
        IEnumerable<string> texts = elements.SelectMany(element => element.Nodes().OfType<XText>()).Select(text => text.Value);
        IEnumerable<string> spoken = elements.Attributes().Where(attribute => attribute.Name.LocalName is "alt" or "title" or "aria-label")
            .Select(attribute => attribute.Value);
        return string.Join('\n', texts.Concat(spoken));
    }

    private static void AssertWidened(string shown)
    {
        string rest = Untranslated.Aggregate(shown, (text, pattern) => pattern.Replace(text, " "));
        string[] plain = [.. PlainWord.Matches(rest).Select(word => word.Value).Distinct().Where(word => !Names.Contains(word))];
        Assert.True(plain.Length == 0, $"not from the language file: {string.Join(' ', plain)} in\n{rest}");
    }

    private static string Sign(string words) => string.Concat(words.Select(letter => char.IsAsciiLetter(letter) ? '#' : letter));

    private static string Widen(string words) =>
        string.Concat(words.Select(letter => char.IsAsciiLetter(letter) ? (char)(letter + FullWidth) : letter));
}
