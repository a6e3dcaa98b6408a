using System.Security.Cryptography;

namespace CardScan.Archive;

/// <summary>The photos that wait, in a bucket of an object store.</summary>
/// <param name="client">What reaches it.</param>
/// <param name="address">The bucket.</param>
internal sealed class QueueBucket(S3Client client, S3Address address) : WaitingPhotos
{
    private readonly string _all = $"{address.Prefix}{QueuePart}/";

    /// <inheritdoc/>
    public override string PathOf(string job, long position, string name) => $"{address.Root}{KeysOf(job)}{NameOf(position, name)}";

    /// <summary>The server refuses a photo that changes while it is sent.</summary>
    protected override string Copy(string from, string to)
    {
        string sha256;
        using (FileStream photo = File.OpenRead(from)) sha256 = Convert.ToHexStringLower(SHA256.HashData(photo));
        client.Put(to[address.Root.Length..], sha256, () => File.OpenRead(from));
        return sha256;
    }

    /// <inheritdoc/>
    public override void Discard(string job)
    {
        try
        {
            foreach (S3Object photo in client.List(KeysOf(job))) client.Delete(photo.Key);
        }
        catch (S3Fault)
        {
            // Swept later.
        }
    }

    /// <inheritdoc/>
    protected override IEnumerable<(string Job, DateTime ChangedUtc)> Standing() => client.List(_all)
        .GroupBy(photo => photo.Key[_all.Length..].Split('/')[0])
        .Select(job => (job.Key, job.Max(photo => photo.ChangedUtc)));

    private string KeysOf(string job) => $"{_all}{job}/";
}
