using System.CommandLine;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>The readings of a command that scores several cards together, and the option that leaves the archive's cards out.</summary>
internal sealed class CompanyInput
{
    private readonly Argument<string[]> _readings = new("reading")
    {
        Description = "A reading.json, whoever wrote it, the folder of a report, or a name in the archive (r12, c5, a card's number); then those of earlier cards to be scored together with it",
        Arity = ArgumentArity.OneOrMore,
    };

    /// <summary>Leaves the archive's other cards out.</summary>
    public static Option<bool> Alone() => new("--alone") { Description = "Score the card alone: leave out the cards of the same material, thickness, batch and machine that the archive has" };

    private readonly Option<bool> _alone = Alone();

    /// <summary>Adds argument and option to a command.</summary>
    public void AddTo(Command command)
    {
        command.Arguments.Add(_readings);
        command.Options.Add(_alone);
        command.Validators.Add(result =>
        {
            if (result.GetValue(_alone) && result.GetResult(_readings)?.Tokens.Count > 1) result.AddError("--alone and a second reading are both given: leave one out");
        });
    }

    /// <summary>The readings, the one that is scored first.</summary>
    public ValueList<string> Readings(ParseResult parsed) => parsed.GetValue(_readings)!.ToValueList();

    /// <summary>True where the archive's other cards are left out.</summary>
    public bool IsAlone(ParseResult parsed) => parsed.GetValue(_alone);
}
