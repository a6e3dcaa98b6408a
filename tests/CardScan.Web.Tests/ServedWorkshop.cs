using System.Net;
using System.Net.Sockets;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>The page of a workshop, with an archive of its own, reached without a proxy on this computer alone.</summary>
internal sealed class ServedWorkshop : IAsyncDisposable
{
    private readonly List<Visitor> _visitors = [];

    private ServedWorkshop(string folder, PageServer server) => (Folder, Server) = (folder, server);

    public string Folder { get; }

    public PageServer Server { get; private set; }

    public ArchivePlace Archive => new(Path.Combine(Folder, "archive"), TimeProvider.System);

    /// <param name="cards">Files of plans whose cards the archive knows.</param>
    public static async Task<ServedWorkshop> Start(params string[] cards)
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-workshop-").FullName;
        foreach (string plan in cards) ServedPage.Keep(folder, ServedPage.Data(plan));
        return new(folder, await StartIn(folder, At($"http://127.0.0.1:{FreePort()}")));
    }

    /// <summary>A page at an address.</summary>
    public static WorkshopPage At(string address) => WorkshopPage.At(address).Value;

    /// <summary>Starts a server on a folder.</summary>
    public static async Task<PageServer> StartIn(string folder, WorkshopPage page)
    {
        ServeRequest request = new(
            new(Path.Combine(folder, "archive"), TimeProvider.System), new(Path.Combine(folder, "profiles")), TimeProvider.System)
        {
            Port = page.Address.Scheme == Uri.UriSchemeHttp ? page.Address.Port : 0, Page = page,
        };
        return (await PageServer.Start(request)).Value;
    }

    /// <summary>Ends the server and starts it anew at the same address.</summary>
    public async Task StartAnew()
    {
        await Server.DisposeAsync();
        Server = await StartIn(Folder, At(Server.Address));
    }

    /// <summary>The path of an invitation.</summary>
    public string Invite(MemberRole role, int times = 1) => DoorKeeper.EntryPath + Archive.Members.Invite(
        new() { Role = role, Times = times, Life = TimeSpan.FromDays(1) }).Value.Code;

    /// <summary>Somebody who has not come in.</summary>
    public Visitor Stranger()
    {
        Visitor stranger = new(Server.Address);
        _visitors.Add(stranger);
        return stranger;
    }

    /// <summary>Somebody who joined.</summary>
    public async Task<Visitor> Join(string name, MemberRole role)
    {
        Visitor visitor = Stranger();
        using HttpResponseMessage joined = await visitor.Post(Invite(role), ("name", name));
        Assert.True(joined.StatusCode == HttpStatusCode.NoContent, await joined.Content.ReadAsStringAsync());
        return visitor;
    }

    public Member Member(string name) => Archive.Members.Named(name).Value;

    public async ValueTask DisposeAsync()
    {
        foreach (Visitor visitor in _visitors) visitor.Dispose();
        await Server.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    /// <summary>The address of a page is known before it is served.</summary>
    private static int FreePort()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
