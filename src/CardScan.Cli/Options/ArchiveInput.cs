using System.CommandLine;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>The options that say which archive is used.</summary>
internal sealed class ArchiveInput(HostEnvironment surroundings)
{
    private readonly Option<string> _folder = new("--archive")
    {
        Description = $"Folder of the archive (here {surroundings.ArchiveFolder ?? "none"}; the variable {HostEnvironment.ArchiveVariable} names another)", HelpName = "folder",
    };

    private readonly Option<bool> _none = new("--no-archive") { Description = "Use no archive: nothing is kept or looked up there" };

    /// <summary>Adds the options to a command.</summary>
    /// <param name="command">The command.</param>
    /// <param name="mayBeLeftOut">True where the command works without an archive too.</param>
    public void AddTo(Command command, bool mayBeLeftOut = false)
    {
        command.Options.Add(_folder);
        if (mayBeLeftOut) command.Options.Add(_none);
        command.Validators.Add(result =>
        {
            // Of an option that lacks its value there is a result and no value to ask for.
            bool isNamed = result.GetResult(_folder) is not null;
            if (mayBeLeftOut && result.GetValue(_none))
            {
                if (isNamed) result.AddError("--archive and --no-archive are both given: leave one out");
            }
            else if (!isNamed && surroundings.ArchiveFolder is null)
            {
                result.AddError($"this system has no place for an archive: give a folder with --archive{(mayBeLeftOut ? ", or --no-archive" : "")}");
            }
        });
    }

    /// <summary>The archive that is asked for; null for none.</summary>
    public ArchivePlace? From(ParseResult parsed) => parsed.GetValue(_none) ? null : Place(parsed);

    /// <summary>The archive that is asked for, of a command that needs one.</summary>
    public ArchivePlace Place(ParseResult parsed) => new(parsed.GetValue(_folder) ?? surroundings.ArchiveFolder ?? "", surroundings.Clock);
}
