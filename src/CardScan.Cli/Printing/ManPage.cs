using System.CommandLine;
using System.CommandLine.Help;
using System.Text;
using CardScan.Language;

namespace CardScan.Cli;

/// <summary>The manual page, made from the commands: roff with the macros of man(7).</summary>
internal static class ManPage
{
    /// <summary>The page of all commands.</summary>
    /// <param name="root">The commands.</param>
    /// <param name="version">Version of the program.</param>
    public static string Of(RootCommand root, string version)
    {
        StringBuilder page = new();
        Line(page, $".TH CARDSCAN 1 \"\" \"CardScan {version}\" \"\"");
        Section(page, "name");
        Line(page, Text(Voice.Say("man.name")));
        Section(page, "synopsis");
        foreach (Command command in root.Subcommands.Where(command => !command.Hidden)) Synopsis(page, command);
        Section(page, "description");
        Line(page, Text(root.Description!));
        Section(page, "commands");
        foreach (Command command in Leaves(root)) Describe(page, command);
        foreach (string section in (string[])["exits", "environment", "files"]) Told(page, section);
        return page.ToString();
    }

    private static IEnumerable<Command> Leaves(Command above) => above.Subcommands.Where(command => !command.Hidden)
        .SelectMany(command => command.Subcommands.Count > 0 ? Leaves(command) : [command]);

    private static void Synopsis(StringBuilder page, Command command)
    {
        Line(page, ".HP");
        string rest = command.Subcommands.Count > 0 ? $" \\fI{Text(Voice.Say("man.command"))}\\fR" : "";
        string arguments = string.Concat(command.Arguments.Select(Placed));
        Line(page, $"\\fBcardscan {Text(command.Name)}\\fR{rest}{arguments} [{Text(Voice.Say("man.options"))}]");
    }

    private static void Describe(StringBuilder page, Command command)
    {
        Line(page, $".SS \"cardscan {Text(PathOf(command))}{string.Concat(command.Arguments.Select(Placed))}\"");
        Line(page, Text(command.Description!));
        foreach (string paragraph in (command as ExplainedCommand)?.Paragraphs("details") ?? [])
        {
            Line(page, ".PP");
            if (paragraph.Length > 0) Line(page, Text(paragraph));
        }

        foreach (Argument argument in command.Arguments)
            Item(page, $"\\fI{Text(argument.HelpName ?? argument.Name)}\\fR", argument.Description);
        foreach (Option option in command.Options.Where(option => !option.Hidden && option is not HelpOption))
        {
            IEnumerable<string> names = option.Aliases.Append(option.Name).Select(name => $"\\fB{Text(name)}\\fR");
            Item(page, string.Join(", ", names) + (option.HelpName is { } value ? $" \\fI{Text(value)}\\fR" : ""), option.Description);
        }

        if (command is not ExplainedCommand { Examples: { Count: > 0 } examples }) return;
        Line(page, ".PP");
        Line(page, Text(Voice.Say("command.examples", ("count", examples.Count))));
        Line(page, ".PP");
        Line(page, ".nf");
        foreach (string example in examples) Line(page, Text(example));
        Line(page, ".fi");
    }

    private static string PathOf(Command command) =>
        command.Parents.OfType<Command>().FirstOrDefault(above => above is not RootCommand) is { } above
            ? $"{above.Name} {command.Name}"
            : command.Name;

    private static string Placed(Argument argument)
    {
        string name = $"\\fI{Text(argument.HelpName ?? argument.Name)}\\fR{(argument.Arity.MaximumNumberOfValues > 1 ? "..." : "")}";
        return argument.Arity.MinimumNumberOfValues > 0 ? $" {name}" : $" [{name}]";
    }

    private static void Item(StringBuilder page, string head, string? text)
    {
        Line(page, ".TP");
        Line(page, head);
        Line(page, Text(text ?? ""));
    }

    private static void Told(StringBuilder page, string section)
    {
        Section(page, section);
        foreach (string line in Voice.Say($"man.{section}").Split('\n'))
        {
            string[] parts = line.Split('\t');
            Item(page, $"\\fB{Text(parts[0])}\\fR", parts[1]);
        }
    }

    private static void Section(StringBuilder page, string name) => Line(page, $".SH {Voice.Say($"man.head.{name}")}");

    private static void Line(StringBuilder page, string line) => page.Append(line).Append('\n');

    /// <summary>A text in which roff finds no commands: no backslash, no dot at the start, no letters beyond ASCII.</summary>
    private static string Text(string text)
    {
        string safe = string.Concat(text.Select(Escaped));
        return safe is ['.' or '\'', ..] ? $"\\&{safe}" : safe;
    }

    private static string Escaped(char letter) => letter switch
    {
        '\\' => "\\e",
        '-' => "\\-",
        '"' => "\\(dq",
        '\n' => " ",
        > '~' => $"\\[u{(int)letter:X4}]",
        _ => $"{letter}",
    };
}
