using System.CommandLine;
using System.Net;
using CardScan.Language;
using CardScan.Model;
using CardScan.Web;

namespace CardScan.Cli;

/// <summary>Where the page of a workshop is: an option, or a variable for the program that serves it and the commands beside it.</summary>
/// <param name="surroundings">Knows the variable.</param>
internal sealed class PageInput(HostEnvironment surroundings)
{
    private readonly Option<string?> _page = new("--page")
    {
        Description = Voice.Say("option.page"), HelpName = OptionText.Placeholder("page"),
    };

    private readonly Option<IPAddress?> _listen = AddressOption.Create("--listen", new("option.listen"));

    private readonly Option<string[]> _proxy = new("--proxy")
    {
        Description = Voice.Say("option.proxy"), HelpName = OptionText.Placeholder("address"),
    };

    /// <summary>The option that says where the page is.</summary>
    public Option<string?> Address => _page;

    /// <summary>Adds what the program that serves it takes.</summary>
    /// <param name="command">The command.</param>
    /// <param name="alone">Options that belong to the page of one person.</param>
    public void AddTo(Command command, params Option[] alone)
    {
        command.Options.Add(_page);
        command.Options.Add(_listen);
        command.Options.Add(_proxy);
        command.Validators.Add(result =>
        {
            if (result.GetResult(_page) is null) return;
            foreach (Option option in alone)
                if (result.GetResult(option) is { Implicit: false })
                    result.AddError(Voice.Say("option.both", ("first", _page.Name), ("second", option.Name)));
        });
    }

    /// <summary>The page that is asked for; null where it is that of one person.</summary>
    /// <param name="parsed">The command line.</param>
    public Outcome<WorkshopPage?> From(ParseResult parsed)
    {
        if ((parsed.GetValue(_page) ?? surroundings.PageAddress) is not { } address) return (WorkshopPage?)null;
        Outcome<WorkshopPage> page = WorkshopPage.At(address);
        if (page.IsRefused) return page.Refusal!;
        Outcome<ValueList<IPNetwork>> proxies = Networks(parsed.GetValue(_proxy) ?? []);
        if (proxies.IsRefused) return proxies.Refusal!;
        return page.Value with
        {
            Listen = parsed.GetValue(_listen) ?? page.Value.Listen,
            Proxies = proxies.Value.Count > 0 ? proxies.Value : page.Value.Proxies,
        };
    }

    private static Outcome<ValueList<IPNetwork>> Networks(string[] given)
    {
        List<IPNetwork> networks = [];
        foreach (string each in given)
        {
            if (IPAddress.TryParse(each, out IPAddress? one)) networks.Add(new(one, one.GetAddressBytes().Length * 8));
            else if (IPNetwork.TryParse(each, out IPNetwork network)) networks.Add(network);
            else return Refusal.OfInput(Codes.PageProxy, ("given", each));
        }

        return networks.ToValueList();
    }
}
