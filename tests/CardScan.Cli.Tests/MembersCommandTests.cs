using System.Text.Json.Nodes;

namespace CardScan.Cli.Tests;

/// <summary>Members of a workshop by the command line.</summary>
public sealed class MembersCommandTests : IDisposable
{
    private const string Page = "https://cards.example.org";

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void The_first_member_is_invited_by_a_link_that_is_shown_once()
    {
        CliRun run = Run("members", "invite", "--role", "keep", "--times", "2", "--page", Page);
        Assert.Equal(0, run.Code);
        Assert.Matches($"^{Page}/in/[A-Za-z0-9_-]{{22}}\n$", run.Output);
        Assert.Contains("2 people can join by this link", run.Errors, StringComparison.Ordinal);
        Assert.Contains("look, add and keep", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain(run.Output.Trim()[^22..], Run("archive", "record").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Members_are_listed_change_their_role_and_go()
    {
        string code = JsonNode.Parse(Run("members", "invite", "--page", Page, "--json").Output)!["link"]!.GetValue<string>()[^22..];
        using (Archive.CardArchive archive = Archive.CardArchive.Open(_scratch["archive"], TimeProvider.System).Value)
            Assert.False(archive.Join(code, "Ana M", "mac").IsRefused);
        Assert.Contains("Ana M", Run("members").Output, StringComparison.Ordinal);
        Assert.Equal("keep", JsonNode.Parse(Run("members", "role", "ana m", "keep", "--json").Output)!["role"]!.GetValue<string>());
        CliRun device = Run("members", "invite", "--device-of", "Ana M", "--page", Page);
        Assert.Contains("Ana M can come in", device.Errors, StringComparison.Ordinal);
        Assert.Contains("Ana M is let in no more", Run("members", "remove", "Ana M").Output, StringComparison.Ordinal);
        Assert.Contains("Nobody is a member", Run("members").Errors, StringComparison.Ordinal);
        Assert.Contains("sent Ana M away", Run("archive", "record").Output, StringComparison.Ordinal);
        Assert.Contains("Noted: backed up", Run("archive", "record", "--backup").Output, StringComparison.Ordinal);
        Assert.Equal("backedUp", JsonNode.Parse(Run("archive", "record", "--json", "--most", "1").Output)![0]!["what"]!.GetValue<string>());
    }

    [Theory]
    [InlineData("page-unknown", "members", "invite")]
    [InlineData("page-address", "members", "invite", "--page", "cards")]
    [InlineData("page-unencrypted", "serve", "--page", "http://cards.example.org")]
    [InlineData("page-proxy", "serve", "--page", Page, "--proxy", "somewhere")]
    [InlineData("member-unknown", "members", "remove", "Nobody")]
    [InlineData("member-unknown", "members", "invite", "--device-of", "Nobody", "--page", Page)]
    public void What_cannot_be_is_refused_with_the_cure(string code, params string[] words)
    {
        Assert.Equal(0, Run("members", "invite", "--page", Page).Code); // makes the archive
        CliRun run = Run(words);
        Assert.NotEqual(0, run.Code);
        Assert.Contains($"[{code}]", run.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("serve", "--page", Page, "--phone")]
    [InlineData("serve", "--page", Page, "--address", "192.168.1.2")]
    [InlineData("members", "invite", "--page", Page, "--role", "own")]
    [InlineData("members", "invite", "--page", Page, "--times", "0")]
    [InlineData("members", "invite", "--page", Page, "--days", "91")]
    public void A_wrong_command_line_is_one(params string[] words) => Assert.Equal(2, Run(words).Code);

    private CliRun Run(params string[] words) => Cli.RunIn(_scratch["."], [.. words, "--archive", _scratch["archive"]]);
}
