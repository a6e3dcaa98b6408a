using System.CommandLine;

namespace CardScan.Cli;

/// <summary>A command with a line for the list of commands, and more for its own help page.</summary>
/// <param name="name">Name.</param>
/// <param name="summary">One line.</param>
/// <param name="details">What its own help adds, examples last.</param>
internal sealed class TaskCommand(string name, string summary, string details) : Command(name, summary)
{
    /// <summary>Adds the details, before the command's own help page is shown.</summary>
    public void ShowDetails() => Description += $"\n\n{details}";
}
