namespace CardScan.Web.Tests;

/// <summary>Waiting until nobody uses the page; in a class of its own, since it takes time and nothing else.</summary>
public class UnusedTests
{
    [Fact]
    public async Task A_server_that_nobody_asks_for_anything_ends_and_one_that_is_asked_does_not()
    {
        await using ServedPage page = await ServedPage.Start();
        await page.Text("/"); // the first answer of a process may take long
        Task unused = page.Server.WaitUntilUnused(TimeSpan.FromSeconds(8), CancellationToken.None);
        for (int i = 0; i < 40; i++)
        {
            await page.Text("/");
            await Task.Delay(250);
            Assert.False(unused.IsCompleted);
        }

        // Whoever is not in does not keep it going.
        using Visitor stranger = new(page.Server.Address);
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(1));
        while (!unused.IsCompleted)
        {
            await stranger.Code("/");
            await Task.Delay(100, patience.Token);
        }

        await unused;
    }
}
