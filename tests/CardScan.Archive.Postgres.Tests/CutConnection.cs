using System.Net;
using System.Net.Sockets;

namespace CardScan.Archive.Tests;

/// <summary>A way to a server whose connections break after some thousand bytes, wherever the two are in their talk.</summary>
internal sealed class CutConnection : IDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly int _server;
    private int _cuts;

    /// <param name="server">Port of the server.</param>
    public CutConnection(int server)
    {
        _server = server;
        _listener.Start();
        _ = Listen();
    }

    /// <summary>The port that leads to the server.</summary>
    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    /// <summary>Connections that were cut.</summary>
    public int Cuts => Volatile.Read(ref _cuts);

    public void Dispose() => _listener.Dispose();

    private async Task Listen()
    {
        try
        {
            for (int i = 0; ; i++) _ = Carry(await _listener.AcceptTcpClientAsync(), new Random(i).Next(2000, 60_000));
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The test is over.
        }
    }

    private async Task Carry(TcpClient near, int mostBytes)
    {
        using (near)
        using (TcpClient far = new())
        {
            await far.ConnectAsync(IPAddress.Loopback, _server);
            Task<bool> there = Copy(near.GetStream(), far.GetStream(), mostBytes);
            Task<bool> back = Copy(far.GetStream(), near.GetStream(), int.MaxValue);
            if (await await Task.WhenAny(there, back)) Interlocked.Increment(ref _cuts);
        }
    }

    /// <summary>True where it stopped because so many bytes had come.</summary>
    private static async Task<bool> Copy(NetworkStream from, NetworkStream to, int mostBytes)
    {
        byte[] piece = new byte[4096];
        try
        {
            int read;
            while (mostBytes > 0 && (read = await from.ReadAsync(piece)) > 0)
            {
                await to.WriteAsync(piece.AsMemory(0, Math.Min(read, mostBytes)));
                mostBytes -= read;
            }

            return mostBytes <= 0;
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            return false;
        }
    }
}
