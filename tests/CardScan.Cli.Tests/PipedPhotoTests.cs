using CardScan.Model;

namespace CardScan.Cli.Tests;

public class PipedPhotoTests
{
    [Fact]
    public void A_photo_from_standard_input_is_read_and_kept_under_a_name_of_its_own()
    {
        using Scratch scratch = new();
        byte[] photo = File.ReadAllBytes(Cli.Photo);
        HostEnvironment piping = Cli.In(scratch["."]) with { Piped = () => new MemoryStream(photo) };
        CliRun run = Cli.Run(piping, ["read", "-", "--plan", Cli.Plan, "--json"]);
        Assert.True(run.Code == 0, run.Errors);
        Reading piped = CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(run.Output)).Value;
        Assert.Equal($"piped-{CardJson.Sha256(photo)[..8]}.jpg", piped.Photos[0].File);
        Assert.Equal(CardJson.Sha256(photo), piped.Photos[0].Sha256);
        Assert.Contains(piped.Photos[0].File, Cli.RunIn(scratch["."], "archive", "show", "r1", "--json").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_piped_is_told_with_an_example()
    {
        using Scratch scratch = new();
        foreach (Func<Stream?> piped in (Func<Stream?>[])[() => null, () => new MemoryStream()])
        {
            CliRun run = Cli.Run(Cli.In(scratch["."]) with { Piped = piped }, ["read", "-", "--plan", Cli.Plan]);
            Assert.Equal(2, run.Code);
            Assert.Contains("cat photo.jpg | cardscan read -", run.OnlyLine(), StringComparison.Ordinal);
        }
    }
}
