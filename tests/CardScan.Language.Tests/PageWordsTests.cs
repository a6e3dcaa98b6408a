using System.Text.RegularExpressions;

namespace CardScan.Language.Tests;

/// <summary>A reader of the served page is told of fields and buttons: options and commands are the terminal's.</summary>
public partial class PageWordsTests
{
    /// <summary>What only the terminal says: help, errors of the command line, and of files and folders that it alone is given.</summary>
    private static readonly string[] OfTerminal =
    [
        "card-unread", "out-empty", "out-is-file", "out-foreign", "report-exists", "plan-exists", "pipe-empty", "profile-which",
        "browser-missing", "queue-needs-server", "queue-no-such", "queue-photo-gone", "queue-poisoned", "queue-taken-over",
        "command.queue.details", "option.most-settings", "option.queue", "option.queue-job", "terminal.queued",
        "archive-empty-name", "prune-nothing", "rename-what", "sheet-empty", "command.archive-rename.details",
        "plan-not-given", "next-speeds", "number-taken",
        "command.root.help", "command.checkup.details", "command.members.details", "page-unknown",
        "option.listen", "option.proxy", "terminal.serve.no-member",
        "command.serve.details", "command.profile-default.details", "command.completion.details",
        "command.plan.details", "command.read.details", "command.score.details", "command.next.details", "command.archive-prune.help",
        "command.archive-phones.details", "phone-unknown", "carry-unknown", "carry-wavelength", "option.from.carry",
        "option.archive-nowhere", "option.alone-with-others", "option.profiles", "option.tones-missing", "option.tones-both",
        "option.json.comparison", "option.json.read", "option.cut",
        "terminal.demo-archive", "terminal.demo-workshop",
        "terminal.many-cards", "terminal.more-cards", "terminal.leftovers", "terminal.faults", "terminal.not-pruned",
    ];

    /// <summary>Deleting for good is done on the command line, and the page says so.</summary>
    private static readonly string[] OfDeleting = ["web.archive.prune", "web.archive.phones-hint", "web.machines.remove"];

    [GeneratedRegex(@"(?<![\w-])--[a-z]|\bcardscan [a-z]")]
    private static partial Regex OptionOrCommand { get; }

    [Fact]
    public void No_sentence_of_the_page_names_an_option_or_a_command()
    {
        using IDisposable said = Voice.SpeakOnPage();
        IEnumerable<string> naming =
            LanguageFile.English.All.Where(code => OptionOrCommand.IsMatch(LanguageFile.English.TemplateOf(code).Describe()));
        Assert.Equal(OfTerminal.Concat(OfDeleting).Order(), naming.Select(Bare).Distinct().Order());

        static string Bare(string code) =>
            code.Split('.') is [var refusal, "seen" or "remedy"] ? refusal : code;
    }

    [Fact]
    public void An_option_is_a_field_on_the_page_and_itself_everywhere_else()
    {
        Figure[] options = [new OptionName("--cell"), new OptionName("--focus-step"), new OptionName("--confidence")];
        Assert.Equal("Give at most 2 mm, or a larger --cell.", Larger());
        using (Voice.SpeakOnPage())
        {
            Assert.Equal("Give at most 2 mm, or a larger “Cell size”.", Larger());
            Assert.Equal("“Cell size”, “Focus step between passes”, --confidence", Voice.Tell(Figures.List(options)));
            Assert.Equal("Give for instance “Focus” -2:2:9.", Focused());
            using (Voice.WriteFiles()) Assert.Equal("--cell", Voice.Tell(options[0]));
        }

        Assert.Equal("Give for instance --focus-offset=-2:2:9.", Focused());

        static string Larger() => Voice.Say("plan-value.remedy", ("fault", "interval"), ("most", Figures.Mm(2)));
        static string Focused() => Voice.Say("plan-axes.remedy", ("fault", "ladder-focus"));
    }
}
