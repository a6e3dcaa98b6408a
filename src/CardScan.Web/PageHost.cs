using System.Net;
using CardScan.Model;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.HttpOverrides;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace CardScan.Web;

/// <summary>The pages at one address.</summary>
internal sealed class PageHost : IAsyncDisposable
{
    /// <summary>No request has a larger body, bytes: files come in pieces.</summary>
    public const int MostBodyBytes = 8 * 1000 * 1000;

    /// <summary>Each browser holds up to six connections.</summary>
    private const int MostConnections = 100, MostConnectionsOfMany = 2000;

    private readonly WebApplication _app;

    private PageHost(WebApplication app, int port, string address) => (_app, Port, Address) = (app, port, address);

    /// <summary>The port.</summary>
    public int Port { get; }

    /// <summary>The address that browsers use.</summary>
    public string Address { get; }

    /// <summary>Begins to serve one person.</summary>
    /// <param name="shop">What the pages share.</param>
    /// <param name="at">Address and port; port 0 for any free one.</param>
    /// <param name="phonesCallIt">The name that phones have for the address; null for the computer's own address.</param>
    /// <param name="stop">Gives up.</param>
    public static async Task<Outcome<PageHost>> Start(Workshop shop, IPEndPoint at, string? phonesCallIt, CancellationToken stop)
    {
        OwnEntrance entrance = new(shop, isComputer: phonesCallIt is null);
        WebApplication app = Build(kestrel => Limit(kestrel, at, MostConnections));
        Map(app, shop, entrance);
        if (await Begin(app, at, stop) is { } refusal) return refusal;
        int port = new Uri(app.Urls.Single()).Port;
        string name = phonesCallIt ?? $"{at.Address}";
        entrance.Add($"{name}:{port}");
        if (phonesCallIt is null) entrance.Add($"localhost:{port}");
        return new PageHost(app, port, $"http://{name}:{port}");
    }

    /// <summary>Begins to serve a workshop.</summary>
    /// <param name="shop">What the pages share.</param>
    /// <param name="page">Where people find it, and who brings them.</param>
    /// <param name="port">The port that the proxy reaches.</param>
    /// <param name="stop">Gives up.</param>
    public static async Task<Outcome<PageHost>> Start(Workshop shop, WorkshopPage page, int port, CancellationToken stop)
    {
        IPEndPoint at = new(page.Listen, port);
        WebApplication app = Build(kestrel => Limit(kestrel, at, MostConnectionsOfMany));
        app.UseForwardedHeaders(BelievedOf(page));
        MemberEntrance entrance = new(shop, page);
        app.Lifetime.ApplicationStopped.Register(entrance.Dispose);
        Map(app, shop, entrance);
        if (await Begin(app, at, stop) is { } refusal) return refusal;
        return new PageHost(app, new Uri(app.Urls.Single()).Port, page.Address.GetLeftPart(UriPartial.Authority));
    }

    /// <summary>A proxy says which address and name the browser used; whoever else says so is not believed.</summary>
    private static ForwardedHeadersOptions BelievedOf(WorkshopPage page)
    {
        ForwardedHeadersOptions believed = new()
        {
            ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto | ForwardedHeaders.XForwardedHost,
            ForwardLimit = 1,
        };
        believed.KnownProxies.Clear();
        believed.KnownIPNetworks.Clear();
        foreach (System.Net.IPNetwork proxy in page.Proxies) believed.KnownIPNetworks.Add(proxy);
        return believed;
    }

    private static WebApplication Build(Action<KestrelServerOptions> limit)
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = [] });
        // Ctrl-C ends the command, which ends this.
        builder.Services.AddSingleton<IHostLifetime, EndedByCommand>();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(limit);
        return builder.Build();
    }

    private static void Map(WebApplication app, Workshop shop, IEntrance entrance)
    {
        DoorKeeper keeper = new(shop, entrance);
        app.Use(next => context => Answer.WithCare(context, next));
        app.Use(next => context => keeper.Look(context, next));
        app.Use(next => context => Answer.InWordsOf(context, next, shop));
        app.UseRouting();
        app.Use(next => context => RouteRoles.Check(context, next));
        PageAssets.Map(app);
        TodayRoutes.Map(app, shop);
        DemoRoutes.Map(app, shop);
        PhotoRoutes.Map(app, shop);
        ReadingRoutes.Map(app, shop);
        CardRoutes.Map(app, shop);
        MachineRoutes.Map(app, shop);
        if (shop.Page is null) PhoneRoutes.Map(app, shop);
        else MemberRoutes.Map(app, shop);
        ArchiveRoutes.Map(app, shop);
        BundleRoutes.Map(app, shop);
        CompareRoutes.Map(app, shop);
        app.MapFallback(Answer.Missing);
    }

    private static async Task<Refusal?> Begin(WebApplication app, IPEndPoint at, CancellationToken stop)
    {
        try
        {
            await app.StartAsync(stop);
            return null;
        }
        catch (IOException e)
        {
            await app.DisposeAsync();
            return Refusal.OfPlace(Codes.PortTaken, ("port", at.Port), ("cause", e.Message.TrimEnd('.')));
        }
    }

    /// <summary>Ends every request and serves no more.</summary>
    public async ValueTask DisposeAsync()
    {
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(2));
        await _app.StopAsync(patience.Token);
        await _app.DisposeAsync();
    }

    private static void Limit(KestrelServerOptions kestrel, IPEndPoint at, int mostConnections)
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = MostBodyBytes;
        kestrel.Limits.MaxConcurrentConnections = mostConnections;
        kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
        kestrel.Listen(at);
    }

    /// <summary>Waits for nothing and ends nothing by itself.</summary>
    private sealed class EndedByCommand : IHostLifetime
    {
        public Task WaitForStartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
    }
}
