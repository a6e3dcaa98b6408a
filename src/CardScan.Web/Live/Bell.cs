using System.Collections.Concurrent;
using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Threading.Channels;

namespace CardScan.Web;

/// <summary>What may have changed.</summary>
internal enum Topic
{
    /// <summary>Photos and what came of them.</summary>
    Photos,

    /// <summary>What the archive holds.</summary>
    Archive,

    /// <summary>Who is in.</summary>
    Guests,

    /// <summary>Machines, materials, units.</summary>
    Profiles,
}

/// <summary>Tells every open page that something changed. The page then asks what: nothing is lost with a message that is.</summary>
internal sealed class Bell
{
    /// <summary>Some networks cut a connection that is silent for longer.</summary>
    private static readonly TimeSpan LongestSilence = TimeSpan.FromSeconds(15);

    private readonly ConcurrentDictionary<Channel<Topic>, bool> _listeners = new();

    private readonly long[] _times = new long[Enum.GetValues<Topic>().Length];

    /// <summary>How often it rang for a topic so far.</summary>
    public long Times(Topic topic) => Interlocked.Read(ref _times[(int)topic]);

    /// <summary>Rings.</summary>
    public void Ring(Topic topic)
    {
        Interlocked.Increment(ref _times[(int)topic]);
        foreach (Channel<Topic> listener in _listeners.Keys) listener.Writer.TryWrite(topic);
    }

    /// <summary>What rings from now on.</summary>
    /// <param name="isWelcome">Whether the listener still may listen; one who was sent away is told nothing more.</param>
    /// <param name="ends">The server stops.</param>
    /// <param name="gone">The listener went.</param>
    public async IAsyncEnumerable<SseItem<string>> Listen(
        Func<bool> isWelcome, CancellationToken ends, [EnumeratorCancellation] CancellationToken gone = default)
    {
        using CancellationTokenSource over = CancellationTokenSource.CreateLinkedTokenSource(ends, gone);
        CancellationToken stop = over.Token;
        // A listener that is slow misses repetitions of what it will ask for anyway.
        Channel<Topic> heard = Channel.CreateBounded<Topic>(new BoundedChannelOptions(64) { FullMode = BoundedChannelFullMode.DropOldest });
        _listeners[heard] = true;
        try
        {
            yield return new("", "ready");
            while (!stop.IsCancellationRequested)
            {
                using CancellationTokenSource patience = CancellationTokenSource.CreateLinkedTokenSource(stop);
                patience.CancelAfter(LongestSilence);
                Topic? topic = await Next(heard.Reader, patience.Token);
                if (stop.IsCancellationRequested || !isWelcome()) yield break;
                yield return topic is { } rung ? new($"{rung}".ToLowerInvariant(), "change") : new("", "still");
            }
        }
        finally
        {
            _listeners.TryRemove(heard, out _);
        }
    }

    private static async Task<Topic?> Next(ChannelReader<Topic> reader, CancellationToken patience)
    {
        try
        {
            return await reader.ReadAsync(patience);
        }
        catch (OperationCanceledException)
        {
            return null;
        }
    }
}
