using System.CommandLine;
using System.Diagnostics;
using System.Net;
using CardScan.Language;
using CardScan.Model;
using CardScan.Web;

namespace CardScan.Cli;

/// <summary><c>cardscan serve</c>: the page that does the whole job, in the browser of this computer and on phones.</summary>
internal static class ServeCommand
{
    /// <summary>A page that nobody has used for longer is forgotten, not wanted.</summary>
    private const int LongestQuietHours = 12;

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Option<bool> phone = new("--phone") { Description = Voice.Say("option.serve.phone") };
        Option<double?> port = NumberOption.Create("--port", NumberRange.Whole(1, 65535), new Phrase("option.serve.port"));
        Option<IPAddress?> address = AddressOption.Create("--address", new("option.serve.address"));
        Option<bool> quiet = new("--no-browser") { Description = Voice.Say("option.serve.no-browser") };
        Option<bool> plain = new("--no-code") { Description = Voice.Say("option.serve.no-code") };
        ProfilesInput profiles = new(surroundings);
        ArchiveInput archive = new(surroundings);
        PageInput page = new(surroundings);
        ExplainedCommand command = new(
            "serve", "cardscan serve", "cardscan serve --phone", "cardscan serve --page https://cards.example.org")
        {
            phone, port, address, quiet, plain, profiles.Option,
        };
        archive.AddTo(command);
        page.AddTo(command, phone, address, plain);
        command.SetAction((parsed, stop) =>
        {
            Outcome<WorkshopPage?> workshop = page.From(parsed);
            if (workshop.IsRefused) return Task.FromResult(terminal.Refuse(workshop.Refusal!));
            ServeRequest request = new(archive.Place(parsed), profiles.From(parsed), surroundings.Clock)
            {
                Port = (int?)parsed.GetValue(port), Page = workshop.Value,
                LetsPhonesIn = parsed.GetValue(phone), PhoneAddress = parsed.GetValue(address),
                DemoFolder = workshop.Value is null ? AppContext.BaseDirectory : null,
            };
            return workshop.Value is null
                ? Serve(request, new(terminal, surroundings.Browser, parsed.GetValue(quiet), parsed.GetValue(plain)), stop)
                : ServeWorkshop(request, terminal, stop);
        });
        return command;
    }

    private static async Task<int> ServeWorkshop(ServeRequest request, Terminal terminal, CancellationToken stop)
    {
        Outcome<PageServer> started = await PageServer.Start(request, stop);
        if (started.IsRefused) return terminal.Refuse(started.Refusal!);
        await using PageServer server = started.Value;
        terminal.ShowText(Voice.Say("terminal.serve.workshop",
            ("address", server.Address), ("port", $"{server.Port}"), ("listen", $"{request.Page!.Listen}")));
        Outcome<ValueList<Member>> members = request.Archive.Members.All();
        if (members is { IsRefused: false, Value.Count: 0 }) terminal.Note(Voice.Say("terminal.serve.no-member"));
        try
        {
            await Task.Delay(Timeout.Infinite, stop);
        }
        catch (OperationCanceledException)
        {
            terminal.Note(Voice.Say("terminal.serve.ended"));
        }

        return ExitCode.Done;
    }

    private sealed record Greeting(Terminal Terminal, string? Browser, bool IsQuiet, bool HasNoCode);

    private static async Task<int> Serve(ServeRequest request, Greeting greeting, CancellationToken stop)
    {
        Terminal terminal = greeting.Terminal;
        Outcome<PageServer> started = await PageServer.Start(request, stop);
        if (started.IsRefused) return terminal.Refuse(started.Refusal!);
        await using PageServer server = started.Value;
        // Whoever reads a log is not let in by it.
        string address = terminal.IsOutputTerminal ? server.ComputerLink : server.Address;
        terminal.ShowText(Voice.Say("terminal.serve.address", ("address", address)));
        if (server.PhoneLink is { } link) ShowPhoneLink(terminal, link, hasCode: !greeting.HasNoCode);
        if (!greeting.IsQuiet && !Open(server.NewOpeningLink(), greeting.Browser)) terminal.Note(Voice.Say("terminal.serve.open-it"));
        terminal.Note(Voice.Say("terminal.serve.end"));
        try
        {
            await server.WaitUntilUnused(TimeSpan.FromHours(LongestQuietHours), stop);
            terminal.Note(Voice.Say("terminal.serve.unused", ("hours", LongestQuietHours)));
        }
        catch (OperationCanceledException)
        {
            terminal.Note(Voice.Say("terminal.serve.ended"));
        }

        return ExitCode.Done;
    }

    private static void ShowPhoneLink(Terminal terminal, string link, bool hasCode)
    {
        if (!terminal.IsOutputTerminal) return;
        terminal.ShowText(Voice.Say("terminal.serve.phone", ("address", link)));
        if (!hasCode) return;
        if (ShowCode(terminal, link) is { } columns) terminal.Note(Voice.Say("terminal.serve.narrow", ("columns", columns)));
    }

    /// <summary>Shows a link as a code to scan, where the terminal is wide enough.</summary>
    /// <returns>Null where it is shown; the columns that it would take where it is not.</returns>
    public static int? ShowCode(Terminal terminal, string link)
    {
        string[] code = PageServer.CodeAsText(link).Split('\n');
        if (code[0].Length > terminal.Width) return code[0].Length;
        terminal.ShowLightOnDark(code);
        return null;
    }

    /// <summary>Opens the page in the browser that the person uses.</summary>
    /// <returns>False where that cannot be asked for.</returns>
    private static bool Open(string link, string? browser)
    {
        try
        {
            ProcessStartInfo start = browser is not null ? new ProcessStartInfo(browser, [link])
                : OperatingSystem.IsWindows() ? new(link) { UseShellExecute = true }
                : new(OperatingSystem.IsMacOS() ? "open" : "xdg-open", [link]);
            start.RedirectStandardError = start.RedirectStandardOutput = !start.UseShellExecute;
            using System.Diagnostics.Process? opened = System.Diagnostics.Process.Start(start);
            return true;
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException)
        {
            return false;
        }
    }
}
