using System.Collections.Concurrent;
using System.Globalization;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>A file that somebody is sending, piece by piece.</summary>
/// <param name="Id">Tells it from others; made here.</param>
/// <param name="Name">The name that it came with: text and nothing else.</param>
/// <param name="SizeBytes">How large it will be.</param>
internal sealed record Delivery(string Id, string Name, long SizeBytes)
{
    /// <summary>Who sends it, on the page of a workshop; null on that of one person.</summary>
    public Actor? By { get; init; }

    /// <summary>What has come.</summary>
    public long HereBytes { get; set; }

    /// <summary>When the last piece came, UTC.</summary>
    public DateTimeOffset TouchedUtc { get; set; }

    /// <summary>Pieces are written one at a time.</summary>
    public SemaphoreSlim Turn { get; } = new(1, 1);
}

/// <summary>
/// Files on their way in, in a folder of their own under names made here. Half ones are gone after a restart, whole ones are not.
/// </summary>
internal sealed class Inbox
{
    /// <summary>All that may lie here at once, bytes.</summary>
    public const long MostBytesInAll = 4L * 1000 * 1000 * 1000;

    /// <summary>Deliveries under way at once.</summary>
    private const int MostUnderWay = 64;

    /// <summary>Deliveries of one member under way at once.</summary>
    private const int MostOfOne = 8;

    /// <summary>Letters of a name that are kept.</summary>
    private const int MostNameLetters = 120;

    private const string PartEnding = ".part", PhotoEnding = ".photo", NameEnding = ".name";

    /// <summary>A sender that is silent for longer has given up; a locked phone has not.</summary>
    private static readonly TimeSpan LongestSilence = TimeSpan.FromHours(1);

    private readonly string _folder;
    private readonly TimeProvider _clock;
    private readonly ConcurrentDictionary<string, Delivery> _underWay = new();

    /// <param name="folder">The folder; made where it is missing.</param>
    /// <param name="clock">The time.</param>
    public Inbox(string folder, TimeProvider clock) => (_folder, _clock) = (folder, clock);

    /// <summary>Sweeps half deliveries of an earlier run, and gives the whole ones.</summary>
    public IReadOnlyList<(string Id, string Name, Actor? By)> Open()
    {
        // Made by the first delivery.
        if (!Directory.Exists(_folder)) return [];
        foreach (string half in Directory.EnumerateFiles(_folder, "*" + PartEnding).Concat(NamesOfNothing())) File.Delete(half);
        return [.. Directory.EnumerateFiles(_folder, "*" + PhotoEnding)
            .OrderBy(File.GetLastWriteTimeUtc).Select(Path.GetFileNameWithoutExtension).Select(Told!)];
    }

    /// <summary>Begins a delivery.</summary>
    /// <param name="name">The name that the file came with.</param>
    /// <param name="sizeBytes">Its size.</param>
    /// <param name="mostBytes">No file is larger.</param>
    /// <param name="by">Who sends it, on the page of a workshop.</param>
    public Outcome<Delivery> Begin(string name, long sizeBytes, long mostBytes, Actor? by = null)
    {
        if (sizeBytes <= 0 || sizeBytes > mostBytes)
        {
            return Refusal.OfInput(Codes.DeliverySize, ("name", Shown(name)),
                ("size", In(Unit.Bytes, sizeBytes)), ("most", In(Unit.Bytes, mostBytes)));
        }

        foreach (Delivery silent in _underWay.Values.Where(each => _clock.GetUtcNow() - each.TouchedUtc > LongestSilence)) Drop(silent.Id);
        if (_underWay.Count >= MostUnderWay || LyingBytes() + sizeBytes > MostBytesInAll) return Refusal.OfPlace(Codes.InboxFull);
        if (by is not null && _underWay.Values.Count(each => each.By == by) >= MostOfOne) return Refusal.OfPlace(Codes.InboxYoursFull);
        Delivery delivery = new($"{Guid.NewGuid():N}", Shown(name), sizeBytes) { By = by, TouchedUtc = _clock.GetUtcNow() };
        try
        {
            OpenFolder();
            using FileStream made = new(PartOf(delivery.Id), Options(FileMode.CreateNew));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Unwritable(e);
        }

        _underWay[delivery.Id] = delivery;
        return delivery;
    }

    /// <summary>A delivery that is under way; null where there is none of that id.</summary>
    public Delivery? Find(string id) => _underWay.GetValueOrDefault(id);

    /// <summary>Takes a piece, in turn. What comes a second time is passed over; what would leave a gap is not taken.</summary>
    /// <param name="delivery">The delivery.</param>
    /// <param name="at">Where the piece begins, bytes from the start.</param>
    /// <param name="piece">The piece.</param>
    /// <param name="stop">Ends it; what came before stays.</param>
    /// <returns>How much has come; or why it could not be written.</returns>
    public async Task<Outcome<long>> Take(Delivery delivery, long at, Stream piece, CancellationToken stop)
    {
        if (at != delivery.HereBytes || delivery.HereBytes == delivery.SizeBytes) return delivery.HereBytes;
        Outcome<FileStream> part = OpenPart(delivery);
        if (part.IsRefused) return part.Refusal!;
        await using FileStream file = part.Value;
        file.Seek(at, SeekOrigin.Begin);
        byte[] block = new byte[64 * 1024];
        int read;
        // What breaks off here is the sender's connection, and goes on later.
        while ((read = await piece.ReadAsync(block, stop)) > 0)
        {
            if (delivery.HereBytes + read > delivery.SizeBytes)
            {
                return Refusal.OfInput(Codes.DeliverySize, ("name", delivery.Name),
                    ("size", In(Unit.Bytes, delivery.HereBytes + read)), ("most", In(Unit.Bytes, delivery.SizeBytes)));
            }

            if (await Write(file, block.AsMemory(0, read)) is { } refusal)
            {
                // A disk that is full is not kept full by what nobody goes on with.
                Drop(delivery.Id);
                return refusal;
            }

            delivery.HereBytes += read;
            delivery.TouchedUtc = _clock.GetUtcNow();
        }

        return delivery.HereBytes;
    }

    private async Task<Refusal?> Write(FileStream file, ReadOnlyMemory<byte> block)
    {
        try
        {
            // Not given up halfway: what was counted is there.
            await file.WriteAsync(block, CancellationToken.None);
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Unwritable(e);
        }
    }

    /// <summary>Makes a delivery that has come a photo that outlives the process.</summary>
    public Outcome<string> Finish(Delivery delivery)
    {
        try
        {
            File.WriteAllLines(PathOf(delivery.Id, NameEnding), [delivery.Name, $"{delivery.By?.MemberId}", delivery.By?.Name ?? ""]);
            string path = PathOf(delivery.Id, PhotoEnding);
            using (FileStream part = new(PartOf(delivery.Id), Options(FileMode.Open))) part.Flush(flushToDisk: true);
            File.Move(PartOf(delivery.Id), path);
            return path;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Drop(delivery.Id);
            return Unwritable(e);
        }
    }

    /// <summary>What was done with a delivery is known: it is under way no more.</summary>
    public void Forget(Delivery delivery) => _underWay.TryRemove(delivery.Id, out _);

    /// <summary>Where a photo lies.</summary>
    public string PhotoOf(string id) => PathOf(id, PhotoEnding);

    /// <summary>Lets a file go, whole or not.</summary>
    public void Drop(string id)
    {
        _underWay.TryRemove(id, out _);
        try
        {
            foreach (string ending in new[] { PartEnding, PhotoEnding, NameEnding }) File.Delete(PathOf(id, ending));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What cannot be deleted now is read once more after a restart; the archive has it already and keeps it once.
        }
    }

    /// <summary>
    /// A name as it is shown: without folders, without control characters and those that turn the reading direction, and not beyond any
    /// length.
    /// </summary>
    public static string Shown(string name)
    {
        string last = name[(name.LastIndexOfAny(['/', '\\']) + 1)..];
        string clean = string.Concat(last.Where(c => !char.IsControl(c) && char.GetUnicodeCategory(c) != UnicodeCategory.Format)).Trim();
        return clean.Length <= MostNameLetters ? clean : clean[..MostNameLetters];
    }

    private Outcome<FileStream> OpenPart(Delivery delivery)
    {
        try
        {
            return new FileStream(PartOf(delivery.Id), Options(FileMode.Open));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Unwritable(e);
        }
    }

    /// <summary>Names whose file was not there yet when the process ended.</summary>
    private IEnumerable<string> NamesOfNothing() => Directory.EnumerateFiles(_folder, "*" + NameEnding)
        .Where(name => !File.Exists(Path.ChangeExtension(name, PhotoEnding)));

    /// <summary>What stands beside a photo that came whole: its name, and who sent it.</summary>
    private (string Id, string Name, Actor? By) Told(string id)
    {
        try
        {
            string[] lines = File.ReadAllLines(PathOf(id, NameEnding));
            Actor? by = lines is [_, var member, var called, ..] && long.TryParse(member, CultureInfo.InvariantCulture, out long number)
                ? new(called, number)
                : null;
            return (id, lines.Length > 0 ? Shown(lines[0]) : id, by);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return (id, id, null);
        }
    }

    private long LyingBytes() =>
        Directory.Exists(_folder) ? new DirectoryInfo(_folder).EnumerateFiles().Sum(file => file.Length) : 0;

    private void OpenFolder()
    {
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(_folder);
        else Directory.CreateDirectory(_folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    private string PartOf(string id) => PathOf(id, PartEnding);

    private string PathOf(string id, string ending) => Path.Combine(_folder, $"{id}{ending}");

    private Refusal Unwritable(Exception e) => DiskFault.Of(e, _folder, "output",
        () => Refusal.OfPlace(Codes.FolderUnwritable, ("folder", _folder), ("cause", e.Message.TrimEnd('.'))));

    private static FileStreamOptions Options(FileMode mode)
    {
        FileStreamOptions options = new() { Mode = mode, Access = FileAccess.Write, Share = FileShare.Read, BufferSize = 0 };
        if (mode == FileMode.CreateNew && !OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        return options;
    }
}
