using System.CommandLine;
using System.Net;
using CardScan.Language;

namespace CardScan.Cli;

/// <summary>Options that take an address of a network.</summary>
internal static class AddressOption
{
    /// <summary>An option for an address that may be left out.</summary>
    /// <param name="name">Name with its dashes.</param>
    /// <param name="text">Its description.</param>
    public static Option<IPAddress?> Create(string name, Phrase text) => new(name)
    {
        Description = Voice.Tell(text), HelpName = OptionText.Placeholder("address"),
        CustomParser = result =>
        {
            if (IPAddress.TryParse(result.Tokens[0].Value, out IPAddress? given)) return given;
            result.AddError(CommandLineFaults.Invalid(name, result.Tokens[0].Value, new Phrase("option.serve.address-range"), null));
            return null;
        },
    };
}
