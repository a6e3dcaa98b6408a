using System.Diagnostics;

namespace CardScan.Cli.Tests;

/// <summary>The scripts are run by the shells themselves, with the program that was built.</summary>
public class CompletionTests
{
    [Theory]
    [InlineData("cardscan pl", "plan")]
    [InlineData("cardscan archive ve", "verify")]
    [InlineData("cardscan plan --mach", "--machine")]
    [InlineData("cardscan next r1 --goal sure", "sure-cut")]
    [InlineData("cardscan plan --machine be", "bench\\ diode")]
    [InlineData("cardscan plan --machine ", "bench\\ diode")]
    [InlineData("cardscan profile show \"be", "bench diode")] // the quote is there already
    [InlineData("cardscan completion fi", "fish")]
    [InlineData("cardscan read photo", "")]
    public void Bash_completes_commands_options_goals_and_names_of_profiles(string line, string completed)
    {
        using Scratch scratch = new();
        Keep(scratch);
        string script = $$"""
            PATH={{scratch["."]}}:$PATH
            source <(cardscan completion bash)
            COMP_LINE='{{line}}' COMP_POINT={{line.Length}}
            COMP_WORDS=(cardscan)
            _cardscan
            printf '%s\n' "${COMPREPLY[@]}"
            """;
        Assert.Equal(completed, Shell(scratch, "bash", "-c", script));
    }

    [InstalledFact("fish")]
    public void Fish_completes_the_same()
    {
        using Scratch scratch = new();
        Keep(scratch);
        string script = $"set -x PATH {scratch["."]} $PATH; cardscan completion fish | source; complete -C 'cardscan plan --machine be'";
        Assert.Contains("bench diode", Shell(scratch, "fish", "--no-config", "-c", script).Replace("\\ ", " "), StringComparison.Ordinal);
    }

    [InstalledFact("zsh")]
    public void Zsh_completes_the_same()
    {
        using Scratch scratch = new();
        Keep(scratch);
        // compadd works inside the completion of a line alone: here it tells what it was given.
        string script = $$"""
            PATH={{scratch["."]}}:$PATH
            compdef() { }
            compadd() { shift; print -l -- ${(P)1}; }
            source <(cardscan completion zsh)
            words=(cardscan) LBUFFER='cardscan plan --machine be'
            _cardscan
            """;
        Assert.Equal("bench diode", Shell(scratch, "zsh", "-f", "-c", script));
    }

    [InstalledFact("pwsh")]
    public void PowerShell_completes_the_same()
    {
        using Scratch scratch = new();
        Keep(scratch);
        string script = $$"""
            $env:PATH = '{{scratch["."]}}:' + $env:PATH
            cardscan completion powershell | Out-String | Invoke-Expression
            foreach ($line in 'cardscan pl', 'cardscan archive ve', 'cardscan plan --mach', 'cardscan next r1 --goal sure',
                'cardscan plan --machine be', 'cardscan completion fi') {
                (TabExpansion2 -inputScript $line -cursorColumn $line.Length).CompletionMatches.CompletionText -join ' '
            }
            """;
        Assert.Equal(
            ["plan", "verify", "--machine", "sure-cut", "'bench diode'", "fish"],
            Shell(scratch, "pwsh", "-NoProfile", "-NonInteractive", "-Command", script).Split('\n').Select(line => line.TrimEnd('\r')));
    }

    [Fact]
    public void Every_shell_has_a_script_and_others_are_refused_by_name()
    {
        foreach (string shell in (string[])["bash", "zsh", "fish", "powershell"])
            Assert.Contains("[suggest:", Cli.Run("completion", shell).Output, StringComparison.Ordinal);
        Assert.Equal(2, Cli.Run("completion", "tcsh").Code);
    }

    private static void Keep(Scratch scratch)
    {
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "machine", "bench diode", "--watts", "10").Code);
        string program = Path.Combine(AppContext.BaseDirectory, "cardscan.dll");
        File.WriteAllText(scratch["cardscan"], $"#!/bin/sh\nexec '{Environment.ProcessPath}' '{program}' \"$@\"\n");
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(scratch["cardscan"], UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    private static string Shell(Scratch scratch, string shell, params string[] args)
    {
        ProcessStartInfo start = new(shell, args)
        {
            UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true,
        };
        start.Environment["CARDSCAN_PROFILES"] = scratch["profiles"];
        start.Environment["HOME"] = scratch["."];
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.Equal("", errors.Result);
        return output.Trim();
    }
}
