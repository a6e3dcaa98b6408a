using System.Text;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Files in a bucket of an object store. They wait in a temporary folder of this computer until they are sent.</summary>
internal sealed class BucketStore : FileStore
{
    private readonly S3Address _address;
    private readonly S3Client _client;

    /// <param name="address">The bucket.</param>
    /// <param name="client">What reaches it; null for one with the keys of whoever runs the program.</param>
    /// <exception cref="S3Fault">There are no keys.</exception>
    public BucketStore(S3Address address, S3Client? client = null)
    {
        S3Keys? keys = client is null ? S3Keys.Find(Environment.GetEnvironmentVariable) : null;
        if (client is null && keys is null) throw new S3Fault(Refusal.OfPlace(Codes.StoreNoKeys, ("store", address.Server.Authority)));
        (_address, _client) = (address, client ?? new(address, keys!));
    }

    /// <inheritdoc/>
    public override string Place => _address.Name;

    /// <inheritdoc/>
    public override string? Folder => null;

    /// <inheritdoc/>
    public override string? Incoming => null;

    /// <inheritdoc/>
    public override WaitingPhotos Waiting => new QueueBucket(_client, _address);

    /// <inheritdoc/>
    public override bool HasFiles => _client.List(KeyIn(FilesPart)).Any();

    /// <inheritdoc/>
    public override string? Mark => _client.Get(MarkKey) is { } bytes ? Encoding.UTF8.GetString(bytes) : null;

    private string MarkKey => $"{_address.Prefix}{MarkPart}";

    /// <inheritdoc/>
    public override void PutMark(string id)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(id);
        _client.Put(MarkKey, CardJson.Sha256(bytes), () => new MemoryStream(bytes));
    }

    /// <inheritdoc/>
    public override string PathOf(string sha256, string extension) => $"{_address.Root}{KeyOf(sha256, extension)}";

    /// <summary>In place of one that may be there and damaged.</summary>
    public override void Send(StagedFile file) =>
        _client.Put(KeyOf(file.Sha256, file.Extension), file.Sha256, () => File.OpenRead(file.Temporary));

    /// <summary>It was sent; somebody who removed a reading may have taken it away since.</summary>
    public override long Keep(StagedFile file)
    {
        long size = new FileInfo(file.Temporary).Length;
        if (_client.SizeOf(KeyOf(file.Sha256, file.Extension)) != size) Send(file);
        return size;
    }

    /// <inheritdoc/>
    public override Stream? Open(string sha256, string extension) =>
        _client.Get(KeyOf(sha256, extension)) is { } bytes ? new MemoryStream(bytes) : null;

    /// <inheritdoc/>
    public override byte[]? Bytes(string path) => _client.Get(KeyOf(path));

    /// <inheritdoc/>
    public override IEnumerable<(string Sha256, string Extension, string Path)> Standing() => _client.List(KeyIn(FilesPart))
        .Select(found => (Path.GetFileNameWithoutExtension(found.Key), Path.GetExtension(found.Key).TrimStart('.'),
            $"{_address.Root}{found.Key}"));

    /// <inheritdoc/>
    public override void Delete(string path) => _client.Delete(KeyOf(path));

    private string KeyIn(string part) => $"{_address.Prefix}{part}/";

    private string KeyOf(string sha256, string extension) => $"{KeyIn(FilesPart)}{sha256[..2]}/{sha256}.{extension}";

    private string KeyOf(string path) => path[_address.Root.Length..];
}
