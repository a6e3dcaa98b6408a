using System.Net;
using AngleSharp.Dom;
using CardScan.Model;

namespace CardScan.Web.Tests;

/// <summary>The page of a workshop: who comes in, what each role may do, and that one member is no danger to another.</summary>
public class MembersTests
{
    private const string Plan = "photos/birch-engrave.plan.json", Photo = "photos/birch-engrave.jpg";

    private const string TooLow = "Your role here does not allow that";

    /// <summary>What those who keep the workshop may do and nobody else.</summary>
    private static readonly string[] ForKeepers =
    [
        "/settings/names", "/bundles?name=a.zip&size=10", "/machines/history/m1/back", "/members/invite",
        "/members/1/role", "/members/1/away", "/members/1/device", "/members/invitations/1/withdraw", "/backed-up", "/demo",
    ];

    /// <summary>What those who add may do too.</summary>
    private static readonly string[] ForAdders =
    [
        "/cards", "/cards/strip", "/cards/c1/notes", "/cards/c1/tags", "/cards/c1/next", "/photos?name=a.jpg&size=10",
        "/photos/look?name=a.jpg", "/machines/machine", "/machines/material", "/machines/history",
    ];

    private static readonly string[] Pages =
    [
        "/", "/photograph", "/photos", "/settings", "/archive", "/compare", "/cards/new", "/cards/c1", "/machines", "/machines/history",
        "/machines/carry", "/me",
    ];

    [Fact]
    public async Task Nobody_gets_a_page_without_an_invitation()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        Visitor stranger = shop.Stranger();
        foreach (string path in Pages.Concat(["/members", "/record", "/phones", "/in/", "/in/AAAAAAAAAAAAAAAAAAAAAA"]))
            Assert.NotEqual(HttpStatusCode.OK, await stranger.Code(path));
        foreach (string path in ForKeepers.Concat(ForAdders))
        {
            using HttpResponseMessage answer = await stranger.Post(path);
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        }
    }

    /// <summary>Programs that show the title of a link look at it before the person does.</summary>
    [Fact]
    public async Task Looking_at_an_invitation_uses_nothing_up_and_joining_does()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        string invitation = shop.Invite(MemberRole.Add);
        Visitor ana = shop.Stranger(), ben = shop.Stranger();
        for (int i = 0; i < 3; i++) Assert.Contains("You are invited", await ana.Text(invitation), StringComparison.Ordinal);
        using HttpResponseMessage joined = await ana.Post(invitation, ("name", "Ana"));
        Assert.Equal(HttpStatusCode.NoContent, joined.StatusCode);
        Assert.Contains("Ana", await ana.Text("/me"), StringComparison.Ordinal);
        using HttpResponseMessage late = await ben.Post(invitation, ("name", "Ben"));
        Assert.Contains("invitation is good no more", await late.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Forbidden, await ben.Code("/"));
    }

    [Theory]
    [InlineData(null, "1")]
    [InlineData("http://evil.example", "1")]
    [InlineData("{own}", null)]
    public async Task Another_page_joins_for_nobody(string? origin, string? own)
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor visitor = shop.Stranger();
        string invitation = shop.Invite(MemberRole.Keep);
        using FormUrlEncodedContent form = new([KeyValuePair.Create("name", "Mallory")]);
        using HttpRequestMessage request = new(HttpMethod.Post, visitor.At(invitation)) { Content = form };
        if (origin is not null) request.Headers.Add("Origin", origin.Replace("{own}", shop.Server.Address, StringComparison.Ordinal));
        if (own is not null) request.Headers.Add(DoorKeeper.OwnHeader, own);
        using HttpResponseMessage answer = await visitor.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Empty(shop.Archive.Members.All().Value);
    }

    [Fact]
    public async Task Everybody_sees_everything_but_the_rooms_of_those_who_keep()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        foreach (MemberRole role in Enum.GetValues<MemberRole>())
        {
            Visitor visitor = await shop.Join($"{role}", role);
            foreach (string path in Pages) Assert.Equal(HttpStatusCode.OK, await visitor.Code(path));
            foreach (string path in new[] { "/members", "/record", "/members/list", "/record/list" })
                Assert.Equal(role == MemberRole.Keep ? HttpStatusCode.OK : HttpStatusCode.UnprocessableEntity, await visitor.Code(path));
            Assert.Equal(HttpStatusCode.NotFound, await visitor.Code("/phones"));
        }
    }

    [Fact]
    public async Task A_role_allows_what_it_says_and_no_more()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        await shop.Join("Kim", MemberRole.Keep);
        Visitor look = await shop.Join("Lu", MemberRole.Look), add = await shop.Join("Ana", MemberRole.Add);
        foreach (string path in ForKeepers.Concat(ForAdders)) Assert.True(await IsTooLow(look, path), path);
        foreach (string path in ForKeepers) Assert.True(await IsTooLow(add, path), path);
        foreach (string path in ForAdders) Assert.False(await IsTooLow(add, path), path);
        foreach (string path in new[] { "/machines/units", "/machines/default", "/me/device" })
            Assert.False(await IsTooLow(look, path), path);
        Assert.Equal(3, shop.Archive.Members.All().Value.Count);
    }

    [Fact]
    public async Task A_card_is_changed_by_whoever_made_it_or_keeps_the_workshop()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor ana = await shop.Join("Ana", MemberRole.Add), ben = await shop.Join("Ben", MemberRole.Add),
            kim = await shop.Join("Kim", MemberRole.Keep);
        using HttpResponseMessage made = await ana.Post(
            "/cards", ("material", "lime"), ("thickness", "3"), ("name", "bench diode"), ("watts", "10"));
        Assert.Equal("/cards/c1", made.Headers.GetValues(Answer.GoHeader).Single());
        foreach (string change in new[] { "burned", "burned-not", "close", "open", "tags-off" })
        {
            Assert.True(await IsTooLow(ben, $"/cards/c1/{change}"), change);
            Assert.False(await IsTooLow(ana, $"/cards/c1/{change}"), change);
            Assert.False(await IsTooLow(kim, $"/cards/c1/{change}"), change);
        }

        using HttpResponseMessage note = await ben.Post("/cards/c1/notes", ("text", "smells nice"));
        Assert.Equal(HttpStatusCode.OK, note.StatusCode);
        // The page offers to each what they may do.
        Assert.Null(Close(await ana.Page("/cards/c1")).GetAttribute("data-for"));
        Assert.Equal("keep", Close(await ben.Page("/cards/c1")).GetAttribute("data-for"));
        string record = (await kim.Page("/record")).QuerySelector("main")!.TextContent;
        foreach (string deed in new[] { "Ana kept c1", "Ben wrote a note on c1", "Kim closed c1" })
            Assert.Contains(deed, record, StringComparison.Ordinal);
        Assert.Contains("Ana kept c1", await ben.Text("/cards/c1"), StringComparison.Ordinal);

        static IElement Close(IParentNode page) => page.QuerySelector("form[action='/cards/c1/open'], form[action='/cards/c1/close']")!;
    }

    [Fact]
    public async Task Machines_and_units_are_a_members_own_and_materials_are_everybodys()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor ana = await shop.Join("Ana", MemberRole.Add), ben = await shop.Join("Ben", MemberRole.Add),
            kim = await shop.Join("Kim", MemberRole.Keep);
        (await ana.Post("/machines/machine", ("name", "attic diode"), ("watts", "5"))).Dispose();
        (await ana.Post("/machines/material", ("name", "lime board"), ("thickness", "3"))).Dispose();
        (await ana.Post("/machines/units", ("unit", "mm/s"))).Dispose();
        string hers = await ana.Text("/machines"), his = await ben.Text("/machines");
        Assert.Contains("attic diode", hers, StringComparison.Ordinal);
        Assert.DoesNotContain("attic diode", his, StringComparison.Ordinal);
        Assert.Contains("lime board", his, StringComparison.Ordinal);
        Assert.Equal("mm/s", (await ana.Page("/machines")).QuerySelector("button[aria-pressed=true]")!.TextContent);
        Assert.Equal("mm/min", (await ben.Page("/machines")).QuerySelector("button[aria-pressed=true]")!.TextContent);
        Assert.Equal(HttpStatusCode.NotFound, await ben.Code("/machines/machine?name=attic+diode"));
        Assert.True(await IsTooLow(ben, "/machines/material", ("kept", "lime board"), ("thickness", "6")));
        Assert.True(await IsTooLow(ben, "/machines/material", ("name", "lime board"), ("thickness", "6"), ("replace", "on")));
        Assert.False(await IsTooLow(kim, "/machines/material", ("kept", "lime board"), ("thickness", "4")));
        Assert.Contains("4\u00a0mm", (await ben.Page("/machines")).QuerySelector("main")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("Kim kept the material lime board", await kim.Text("/record"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_member_sends_is_seen_and_gone_on_with_by_nobody_else()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        Visitor ana = await shop.Join("Ana", MemberRole.Add), ben = await shop.Join("Ben", MemberRole.Add);
        byte[] photo = File.ReadAllBytes(ServedPage.Data(Photo));
        string id = await ana.Begin("mine.jpg", photo.Length);
        (HttpStatusCode code, _) = await ben.Put(id, 0, [1, 2, 3]);
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (code, await ben.Code($"/photos/{id}")));
        Assert.Equal(HttpStatusCode.OK, (await ana.Put(id, 0, photo)).Code);
        Assert.Contains("kept", Assert.Single(await ana.Photos()).ClassList);
        Assert.Empty(await ben.Photos());
        Assert.Equal(
            (HttpStatusCode.OK, HttpStatusCode.NotFound),
            (await ana.Code($"/photos/{id}/small.jpg"), await ben.Code($"/photos/{id}/small.jpg")));
        (await ben.Post($"/photos/{id}/anew/17")).Dispose();
        Assert.Single(await ana.Photos());
        // The result is in the archive, for all.
        Assert.Equal(HttpStatusCode.OK, await ben.Code("/readings/r1"));
        Assert.Contains("Ana kept r1", shop.Archive.Members.Deeds(null, 9).Value.Select(deed => Workflow.DeedWords.InWords(deed)));
        // Sent by somebody else, the same photo is theirs, and one reading.
        await ben.Send("the-same.jpg", photo);
        Assert.Contains("kept", Assert.Single(await ben.Photos()).ClassList);
        Assert.Equal(1, shop.Archive.Find(new()).Value.Cards.Single().Readings);
    }

    [Fact]
    public async Task A_photo_is_its_senders_after_a_restart_too()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        Visitor ana = await shop.Join("Ana", MemberRole.Add), ben = await shop.Join("Ben", MemberRole.Add);
        // As if the program had ended when the photo had just come.
        Inbox inbox = new(Path.Combine(shop.Folder, "archive", "inbox"), TimeProvider.System);
        byte[] photo = File.ReadAllBytes(ServedPage.Data(Photo));
        Delivery delivery = inbox.Begin("late.jpg", photo.Length, photo.Length, shop.Member("Ana").AsActor).Value;
        using MemoryStream bytes = new(photo);
        Assert.False((await inbox.Take(delivery, 0, bytes, CancellationToken.None)).IsRefused);
        Assert.False(inbox.Finish(delivery).IsRefused);
        await shop.StartAnew();
        Assert.Contains("late.jpg", Assert.Single(await ana.Photos()).TextContent, StringComparison.Ordinal);
        Assert.Empty(await ben.Photos());
        Assert.Equal("Ana", shop.Archive.Members.Deeds(null, 1).Value.Single().By.Name);
    }

    [Fact]
    public async Task Whoever_is_sent_away_is_out_at_once()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        Visitor ana = await shop.Join("Ana", MemberRole.Add), kim = await shop.Join("Kim", MemberRole.Keep);
        Assert.Equal(HttpStatusCode.OK, await ana.Code("/"));
        using HttpResponseMessage bell = await ana.Client.GetAsync(ana.At("/changes"), HttpCompletionOption.ResponseHeadersRead);
        (await kim.Post($"/members/{shop.Member("Ana").Id}/away")).Dispose();
        Assert.Equal(HttpStatusCode.Forbidden, await ana.Code("/"));
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(40));
        await bell.Content.CopyToAsync(Stream.Null, patience.Token); // it ends
        Assert.Equal("Kim sent Ana away", Workflow.DeedWords.InWords(shop.Archive.Members.Deeds(null, 1).Value.Single()));
    }

    [Fact]
    public async Task Another_role_counts_at_once_and_nobody_changes_their_own()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        Visitor ana = await shop.Join("Ana", MemberRole.Look), kim = await shop.Join("Kim", MemberRole.Keep);
        Assert.True(await IsTooLow(ana, "/cards/c1/notes", ("text", "x")));
        (await kim.Post($"/members/{shop.Member("Ana").Id}/role", ("role", "add"))).Dispose();
        Assert.False(await IsTooLow(ana, "/cards/c1/notes", ("text", "x")));
        foreach (string what in new[] { "role", "away" })
        {
            using HttpResponseMessage own = await kim.Post($"/members/{shop.Member("Kim").Id}/{what}", ("role", "look"));
            Assert.Contains("That is you", await own.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        Assert.Equal(HttpStatusCode.OK, await kim.Code("/members"));
    }

    [Fact]
    public async Task A_member_comes_in_on_their_phone_and_signs_the_old_device_out()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor ana = await shop.Join("Ana", MemberRole.Add), ben = await shop.Join("Ben", MemberRole.Add);
        using HttpResponseMessage made = await ana.Post("/me/device");
        string link = new AngleSharp.Html.Parser.HtmlParser().ParseDocument(await made.Content.ReadAsStringAsync())
            .QuerySelector(".address a")!.GetAttribute("href")!;
        Visitor phone = shop.Stranger();
        Assert.Contains("Hello, Ana", await phone.Text(new Uri(link).AbsolutePath), StringComparison.Ordinal);
        (await phone.Post(new Uri(link).AbsolutePath)).Dispose();
        Assert.Contains("Ana", (await phone.Page("/me")).Title, StringComparison.Ordinal);
        long first = shop.Archive.Members.DevicesOf(shop.Member("Ana")).Value.Min(device => device.Id);
        (await ben.Post($"/me/devices/{first}/out")).Dispose();
        Assert.Equal(HttpStatusCode.OK, await ana.Code("/"));
        (await phone.Post($"/me/devices/{first}/out")).Dispose();
        Assert.Equal((HttpStatusCode.Forbidden, HttpStatusCode.OK), (await ana.Code("/"), await phone.Code("/")));
    }

    [Fact]
    public async Task A_member_is_known_after_a_restart()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor ana = await shop.Join("Ana", MemberRole.Add);
        await shop.StartAnew();
        Assert.Equal(HttpStatusCode.OK, await ana.Code("/"));
    }

    [Fact]
    public async Task Whoever_asks_too_often_waits_and_the_others_do_not()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor ana = await shop.Join("Ana", MemberRole.Look), ben = await shop.Join("Ben", MemberRole.Look);
        HttpStatusCode code = HttpStatusCode.OK;
        for (int i = 0; i < 3000 && code == HttpStatusCode.OK; i++) code = await ana.Code("/photos");
        Assert.Equal((HttpStatusCode.TooManyRequests, HttpStatusCode.OK), (code, await ben.Code("/photos")));
        await Task.Delay(TimeSpan.FromSeconds(2));
        Assert.Equal(HttpStatusCode.OK, await ana.Code("/photos"));
    }

    [Fact]
    public async Task One_member_sends_so_many_files_at_once_and_no_more()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start();
        Visitor ana = await shop.Join("Ana", MemberRole.Add), ben = await shop.Join("Ben", MemberRole.Add);
        for (int i = 0; i < 8; i++) await ana.Begin($"{i}.jpg", 1000);
        using HttpResponseMessage full = await ana.Post("/photos?name=9.jpg&size=1000");
        Assert.Equal(HttpStatusCode.TooManyRequests, full.StatusCode);
        await ben.Begin("0.jpg", 1000);
    }

    [Fact]
    public async Task Those_who_keep_the_workshop_are_reminded_of_a_backup()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        Visitor ana = await shop.Join("Ana", MemberRole.Add), kim = await shop.Join("Kim", MemberRole.Keep);
        Assert.DoesNotContain("backup", await ana.Text("/"), StringComparison.Ordinal);
        Assert.Contains("Nobody has noted a backup", await kim.Text("/"), StringComparison.Ordinal);
        using HttpResponseMessage noted = await kim.Post("/backed-up");
        Assert.DoesNotContain("backup", await noted.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("backup", await kim.Text("/"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Markup_in_a_members_name_is_text()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start(Plan);
        const string Name = "<img src=x onerror=alert(1)>\"'&";
        Visitor mallory = await shop.Join(Name, MemberRole.Add), kim = await shop.Join("Kim", MemberRole.Keep);
        (await mallory.Post("/cards/c1/notes", ("text", Stranger.Markup))).Dispose();
        foreach ((Visitor who, string path) in new[] { (mallory, "/me"), (kim, "/members"), (kim, "/record"), (kim, "/cards/c1") })
        {
            AngleSharp.Html.Dom.IHtmlDocument page = await who.Page(path);
            Assert.Empty(page.QuerySelectorAll("img, [onerror], main script"));
            Assert.Contains(Name, page.Body!.TextContent, StringComparison.Ordinal);
        }
    }

    /// <summary>An archive on a server may be served to its user alone: then that is who does it.</summary>
    [Fact]
    public async Task On_the_page_of_one_person_whoever_started_it_is_written_down()
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-own-").FullName;
        ServedPage.Keep(folder, ServedPage.Data(Plan));
        PageServer server = await ServedPage.StartIn(
            folder, request => request with { Archive = request.Archive with { By = new("ana@bench") } });
        await using (server)
        {
            using Visitor ana = await Visitor.By(server.NewOpeningLink());
            (await ana.Post("/cards/c1/notes", ("text", "x"))).Dispose();
            await ana.Send("a.jpg", File.ReadAllBytes(ServedPage.Data(Photo)));
            await ana.Photos();
            Assert.Equal(
                [(DeedKind.ReadingKept, "ana@bench"), (DeedKind.NoteAdded, "ana@bench")],
                server.Shop.Archive.Members.Deeds(null, 9).Value.Select(deed => (deed.Kind, deed.By.Name)));
        }

        Directory.Delete(folder, recursive: true);
    }

    private static async Task<bool> IsTooLow(Visitor visitor, string path, params (string, string)[] fields)
    {
        using HttpResponseMessage answer = await visitor.Post(path, fields);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.NotEqual(HttpStatusCode.InternalServerError, answer.StatusCode);
        return text.Contains(TooLow, StringComparison.Ordinal);
    }
}
