using System.CommandLine;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>The readings of a command that scores several cards together, and the option that leaves the archive's cards out.</summary>
internal sealed class CompanyInput(HostEnvironment surroundings)
{
    private readonly Argument<string[]> _readings = new("reading")
    {
        HelpName = OptionText.Placeholder("reading"),
        Description = Voice.Say("option.readings"), Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<bool> _alone = Alone();

    /// <summary>Leaves the archive's other cards out.</summary>
    public static Option<bool> Alone() => new("--alone") { Description = Voice.Say("option.alone") };

    /// <summary>Adds argument and option to a command.</summary>
    public void AddTo(Command command)
    {
        command.Arguments.Add(_readings);
        command.Options.Add(_alone);
        command.Validators.Add(result =>
        {
            if (result.GetValue(_alone) && result.GetResult(_readings)?.Tokens.Count > 1)
                result.AddError(Voice.Say("option.alone-with-others"));
        });
    }

    /// <summary>The readings, the one that is scored first.</summary>
    public ValueList<string> Readings(ParseResult parsed) => parsed.GetValue(_readings)!.Select(surroundings.Found).ToValueList();

    /// <summary>True where the archive's other cards are left out.</summary>
    public bool IsAlone(ParseResult parsed) => parsed.GetValue(_alone);
}
