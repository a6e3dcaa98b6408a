using System.CommandLine;
using CardScan.Language;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>The options that say which archive is used.</summary>
internal sealed class ArchiveInput(HostEnvironment surroundings)
{
    private readonly Option<string> _folder = new("--archive")
    {
        Description = Voice.Say("option.archive", Figures.Known(
            ("folder", Figures.Text(surroundings.ArchiveFolder)), ("variable", HostEnvironment.ArchiveVariable))),
        HelpName = OptionText.Placeholder("folder"),
    };

    private readonly Option<bool> _none = new("--no-archive") { Description = Voice.Say("option.no-archive") };

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
                if (isNamed) result.AddError(Voice.Say("option.both", ("first", _folder.Name), ("second", _none.Name)));
            }
            else if (!isNamed && surroundings.ArchiveFolder is null)
            {
                result.AddError(Voice.Say("option.archive-nowhere", ("optional", Is(mayBeLeftOut))));
            }
        });
    }

    /// <summary>Refuses an option beside the one that leaves the archive out.</summary>
    public void IsNeededFor(Option<bool> option, Command command) => command.Validators.Add(result =>
    {
        if (result.GetValue(_none) && result.GetValue(option))
            result.AddError(Voice.Say("option.both", ("first", option.Name), ("second", _none.Name)));
    });

    /// <summary>The archive that is asked for; null for none.</summary>
    public ArchivePlace? From(ParseResult parsed) => parsed.GetValue(_none) ? null : Place(parsed);

    /// <summary>The archive that is asked for, of a command that needs one.</summary>
    public ArchivePlace Place(ParseResult parsed)
    {
        string name = surroundings.ArchiveAt(parsed.GetValue(_folder) ?? surroundings.ArchiveFolder ?? "");
        // In an archive of somebody's own nobody asks who did what.
        return new(name, surroundings.Clock) { By = ArchivePlace.IsAddress(name) ? new(surroundings.Person) : null };
    }
}
