using System.Net;
using CardScan.Model;
using Microsoft.AspNetCore.Hosting;
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
    private const int MostConnections = 100;

    private readonly WebApplication _app;

    private PageHost(WebApplication app, string host, int port) => (_app, Port, Address) = (app, port, $"http://{host}:{port}");

    /// <summary>The port.</summary>
    public int Port { get; }

    /// <summary>The address that browsers use.</summary>
    public string Address { get; }

    /// <summary>Begins to serve.</summary>
    /// <param name="shop">What the pages share.</param>
    /// <param name="at">Address and port; port 0 for any free one.</param>
    /// <param name="phonesCallIt">The name that phones have for the address; null for the computer's own address.</param>
    /// <param name="stop">Gives up.</param>
    public static async Task<Outcome<PageHost>> Start(Workshop shop, IPEndPoint at, string? phonesCallIt, CancellationToken stop)
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = [] });
        // Ctrl-C ends the command, which ends this.
        builder.Services.AddSingleton<IHostLifetime, EndedByCommand>();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => Limit(kestrel, at));
        WebApplication app = builder.Build();
        HashSet<string> hosts = [];
        DoorKeeper keeper = new(shop, hosts, isComputer: phonesCallIt is null);
        app.Use(next => context => keeper.Look(context, next));
        app.Use(next => context => Answer.WithCare(context, next, shop));
        app.UseRouting();
        PageAssets.Map(app);
        TodayRoutes.Map(app, shop);
        DemoRoutes.Map(app, shop);
        PhotoRoutes.Map(app, shop);
        ReadingRoutes.Map(app, shop);
        CardRoutes.Map(app, shop);
        MachineRoutes.Map(app, shop);
        PhoneRoutes.Map(app, shop);
        ArchiveRoutes.Map(app, shop);
        BundleRoutes.Map(app, shop);
        CompareRoutes.Map(app, shop);
        app.MapFallback(Answer.Missing);
        try
        {
            await app.StartAsync(stop);
        }
        catch (IOException e)
        {
            await app.DisposeAsync();
            return Refusal.OfPlace(Codes.PortTaken, ("port", at.Port), ("cause", e.Message.TrimEnd('.')));
        }

        int port = new Uri(app.Urls.Single()).Port;
        string name = phonesCallIt ?? $"{at.Address}";
        hosts.Add($"{name}:{port}");
        if (phonesCallIt is null) hosts.Add($"localhost:{port}");
        return new PageHost(app, name, port);
    }

    /// <summary>Ends every request and serves no more.</summary>
    public async ValueTask DisposeAsync()
    {
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(2));
        await _app.StopAsync(patience.Token);
        await _app.DisposeAsync();
    }

    private static void Limit(KestrelServerOptions kestrel, IPEndPoint at)
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = MostBodyBytes;
        kestrel.Limits.MaxConcurrentConnections = MostConnections;
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
