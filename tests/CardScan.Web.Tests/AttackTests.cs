using System.Net;
using CardScan.Model;

namespace CardScan.Web.Tests;

/// <summary>What somebody could try at the page of one person.</summary>
public class AttackTests : PageAttacks
{
    /// <inheritdoc/>
    private protected override string[] OwnPages => ["/phones"];

    [Theory]
    [InlineData("GET", "/phones")]
    [InlineData("GET", "/phones/list")]
    [InlineData("POST", "/phones/open")]
    [InlineData("POST", "/phones/close")]
    [InlineData("POST", "/phones/1/away")]
    [InlineData("POST", "/phones/2/away")]
    public async Task A_phone_does_nothing_that_is_the_computers(string method, string path)
    {
        await using ServedPage page = await ServedPage.Start();
        using Visitor phone = await page.Phone(), other = await page.Phone();
        using HttpRequestMessage request = phone.Own(new(method), path);
        using HttpResponseMessage answer = await phone.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.DoesNotContain("/in/", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (await page.Computer.Code("/"), await other.Code("/photograph")));
    }

    [Fact]
    public async Task A_phone_that_was_sent_away_gets_nothing_more_not_even_what_rings()
    {
        await using ServedPage page = await ServedPage.Start();
        using Visitor phone = await page.Phone(), other = await page.Phone();
        using Stream bell = await phone.Client.GetStreamAsync(phone.At("/changes"));
        using StreamReader heard = new(bell);
        Assert.StartsWith("event: ready", await heard.ReadLineAsync(), StringComparison.Ordinal);
        string id = await phone.Begin("a.jpg", 2000);
        using HttpResponseMessage away = await page.Post("/phones/2/away");
        Assert.Equal(HttpStatusCode.OK, away.StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, await phone.Code("/photograph"));
        Assert.Equal(HttpStatusCode.Forbidden, (await phone.Put(id, 0, new byte[2000])).Code);
        Assert.DoesNotContain("data: photos", await heard.ReadToEndAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, await other.Code("/photograph"));
    }

    [Fact]
    public async Task A_phones_code_that_is_guessed_used_or_closed_lets_nobody_in()
    {
        await using ServedPage page = await ServedPage.Start();
        using Visitor phone = await page.Phone();
        string link = page.Server.PhoneLink!;
        using Visitor second = await Visitor.By(link);
        Uri at = new(link);
        using Visitor stranger = new(at.GetLeftPart(UriPartial.Authority));
        string code = at.AbsolutePath["/in/".Length..];
        foreach (string guess in new[] { code, code[..^1], code + "A", code.ToUpperInvariant(), "", "..", new string('A', 22),
            new string('A', 4000), "%00" })
            Assert.NotEqual(HttpStatusCode.OK, await stranger.Code($"/in/{guess}"));
        // The computer's own code opens nothing for phones.
        Assert.Equal(HttpStatusCode.Forbidden, await stranger.Code(new Uri(page.Server.ComputerLink).AbsolutePath));
        using HttpResponseMessage closed = await page.Post("/phones/close");
        await Assert.ThrowsAsync<HttpRequestException>(() => phone.Code("/photograph"));
        using Visitor later = await page.Phone();
        Assert.Equal(HttpStatusCode.Forbidden, await new Visitor(later.Address).Code("/photograph"));
    }

    [Fact]
    public async Task Asking_for_the_head_alone_takes_no_code_away()
    {
        await using ServedPage page = await ServedPage.Start();
        string link = page.Server.NewOpeningLink();
        using HttpRequestMessage head = new(HttpMethod.Head, link);
        using HttpResponseMessage answer = await page.Client.SendAsync(head);
        Assert.NotEqual(HttpStatusCode.OK, answer.StatusCode);
        using Visitor in_ = await Visitor.By(link);
        Assert.Equal(HttpStatusCode.OK, await in_.Code("/"));
    }

    [Fact]
    public async Task Codes_and_keys_stand_on_no_page_but_the_one_that_shows_the_code()
    {
        await using ServedPage page = await ServedPage.Start("photos/birch-engrave.plan.json");
        await page.Send("a.jpg", Birch);
        await page.Photos();
        using Visitor phone = await page.Phone();
        string[] keys = [page.Computer.Cookie().Split('=')[1], phone.Cookie().Split('=')[1], page.Server.ComputerLink.Split('/')[^1]];
        string code = page.Server.PhoneLink!.Split('/')[^1];
        foreach (string path in Pages.Concat(OwnPages))
        {
            foreach (Visitor visitor in new[] { page.Computer, phone })
            {
                using HttpResponseMessage answer = await visitor.Client.GetAsync(visitor.At(path));
                string all = answer + await answer.Content.ReadAsStringAsync();
                Assert.All(keys, key => Assert.DoesNotContain(key, all, StringComparison.Ordinal));
                Assert.Equal(visitor == page.Computer && path == "/phones", all.Contains(code, StringComparison.Ordinal));
            }
        }
    }

    [Fact]
    public async Task A_second_server_of_the_same_archive_is_refused()
    {
        await using ServedPage page = await ServedPage.Start();
        ServeRequest request = new(page.Archive, new(Path.Combine(page.Folder, "profiles")), TimeProvider.System) { Port = 0 };
        Assert.Equal(Codes.ArchiveServed, (await PageServer.Start(request)).Refusal!.Code);
    }

    /// <inheritdoc/>
    private protected override Task<ServedPage> Serve(params string[] cards) => ServedPage.Start(cards);
}

/// <summary>What somebody could try at the page of a workshop.</summary>
public class MemberAttackTests : PageAttacks
{
    /// <inheritdoc/>
    private protected override string[] OwnPages => ["/me", "/members", "/record"];

    [Fact]
    public async Task Codes_and_keys_of_members_stand_on_no_page()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start("photos/birch-engrave.plan.json");
        Visitor ana = await shop.Join("Ana", MemberRole.Keep), ben = await shop.Join("Ben", MemberRole.Keep);
        string open = shop.Invite(MemberRole.Keep)[DoorKeeper.EntryPath.Length..];
        foreach (Visitor visitor in new[] { ana, ben })
        {
            string all = string.Concat(await Task.WhenAll(
                Pages.Where(path => !path.Contains("r1", StringComparison.Ordinal)).Concat(OwnPages).Select(visitor.Text)));
            foreach (string secret in new[] { ana.Cookie().Split('=')[1], ben.Cookie().Split('=')[1], open })
                Assert.DoesNotContain(secret, all, StringComparison.Ordinal);
        }
    }

    /// <inheritdoc/>
    private protected override async Task<ServedPage> Serve(params string[] cards) => await ServedPage.StartWorkshop(cards);
}
