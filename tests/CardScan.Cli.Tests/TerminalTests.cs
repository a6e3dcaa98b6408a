using System.Text.RegularExpressions;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli.Tests;

/// <summary>What a person sees on a screen of 80 columns, the width that is taken where none is known.</summary>
public partial class TerminalTests
{
    private const int Columns = 80;

    [Theory]
    [InlineData("plan")]
    [InlineData("next")]
    [InlineData("archive find")]
    [InlineData("profile edit")]
    [InlineData("units")]
    public void Help_fits_the_screen_and_breaks_no_word(string command)
    {
        using Scratch scratch = new();
        string[] args = [.. command.Split(' '), "--help"];
        string wide = Cli.RunIn(scratch["."], args).Output;
        CliRun run = Cli.Run(Cli.In(scratch["."]) with { ArchiveFolder = "/a" }, args, isTerminal: true);
        Assert.All(Lines(run.Output), line => Assert.True(line.TrimEnd().Length <= Columns, line));
        HashSet<string> words = [.. Words(wide), "\\", "/a;"];
        Assert.DoesNotContain(Words(run.Output), word => !words.Contains(word));
    }

    [Fact]
    public void A_list_that_has_no_room_is_set_in_blocks_and_breaks_no_figure()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan).Code);
        string list = Cli.Run(Cli.In(scratch["."]), ["archive", "list"], isTerminal: true).Output;
        Assert.All(Lines(list), line => Assert.True(line.TrimEnd().Length <= Columns, line));
        Assert.Contains(Lines(list), line => line.Contains("1500 mm/min at 80 %", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(80)]
    [InlineData(60)]
    public void Settings_fit_the_screen_and_say_what_speaks_against_them(int columns)
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan).Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(Cli.Plan)).Value.Plan;
        string other = scratch.Write("other.json", CardJson.Write(plan with { Material = plan.Material with { Batch = "B-0700" } }));
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", other, "--full-mark", "60", "--out", "third").Code);
        string coloured = Cli.Run(Cli.In(scratch["."]), ["settings", "birch"], isTerminal: true, columns).Output;
        string settings = Colours().Replace(coloured, "");
        Assert.All(Lines(settings), line => Assert.True(line.TrimEnd().Length <= columns, line));
        Assert.StartsWith("birch plywood 3 mm · workshop diode, 10 W", settings, StringComparison.Ordinal);
        string flat = string.Join(' ', Words(settings));
        Assert.Contains("batch B-0700, read ", flat, StringComparison.Ordinal);
        Assert.Contains("An older card of batch B-0412 differs: 1500 mm/min at 80 % (card 17, ", flat, StringComparison.Ordinal);
        Assert.Contains("An older card of batch B-0597 differs: ", flat, StringComparison.Ordinal);
        Assert.Contains(Lines(settings), line => line.EndsWith(" compare r2 r3", StringComparison.Ordinal));
    }

    [Fact]
    public void A_list_that_has_room_is_a_table()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "plan", "--material", "birch", "--watts", "10", "--power", "20:80:4", "--speed",
            "1000:3000:3").Code);
        string[] lines = Lines(Cli.Run(Cli.In(scratch["."]), ["archive", "list"], isTerminal: true).Output);
        Assert.Contains("material", lines[0], StringComparison.Ordinal);
        Assert.Contains("birch", lines[1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_warning_is_printed_once_with_its_code()
    {
        using StringWriter output = new(), errors = new();
        Terminal terminal = new(output, errors, isOutputTerminal: false, isErrorTerminal: false);
        Warning warning = new(Codes.ArchiveForeign, ("path", "x"));
        terminal.Warn(warning);
        terminal.Warn(warning);
        terminal.Warn(warning, "photo.jpg");
        string[] lines = Lines(errors.ToString().TrimEnd());
        Assert.Equal(2, lines.Length);
        Assert.All(lines, line => Assert.EndsWith(" [archive-foreign]", line, StringComparison.Ordinal));
    }

    [Fact]
    public void What_concerns_the_card_is_told_before_what_concerns_every_card()
    {
        using Scratch scratch = new();
        string errors = Cli.RunIn(scratch["."], "plan", "--material", "birch", "--watts", "10", "--power", "20:80:4", "--speed",
            "1000:3000:3").Errors;
        int ofCard = errors.IndexOf("There is no card.gcode", StringComparison.Ordinal);
        Assert.InRange(ofCard, 0, errors.IndexOf("class 4", StringComparison.Ordinal));
        Assert.Contains("[machine-incomplete]", errors, StringComparison.Ordinal);
    }

    [GeneratedRegex(@"\x1b\[[0-9;]*m")]
    private static partial Regex Colours();

    private static string[] Lines(string text) => text.ReplaceLineEndings("\n").Split('\n');

    private static string[] Words(string text) => text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
}
