using System.CommandLine;
using CardScan.Language;

namespace CardScan.Cli;

/// <summary><c>cardscan completion</c>: a script for a shell, which asks the program itself for what may come next.</summary>
internal static class CompletionCommand
{
    private static readonly string[] Shells = ["bash", "zsh", "fish", "powershell"];

    public static Command Create(Terminal terminal)
    {
        Argument<string> shell = new("shell") { HelpName = string.Join('|', Shells), Description = Voice.Say("option.shell") };
        shell.AcceptOnlyFromAmong(Shells);
        ExplainedCommand command = new("completion", "cardscan completion bash") { shell };
        command.SetAction(parsed =>
        {
            terminal.ShowRaw(Script(parsed.GetValue(shell)!));
            return ExitCode.Done;
        });
        return command;
    }

    private static string Script(string shell)
    {
        using Stream stream = typeof(CompletionCommand).Assembly.GetManifestResourceStream($"completion.{shell}")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}
