using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Xml;
using System.Xml.Linq;
using CardScan.Language;

namespace CardScan.Archive;

/// <summary>Something in a bucket.</summary>
/// <param name="Key">Its name, prefix included.</param>
/// <param name="ChangedUtc">When it was put there.</param>
internal sealed record S3Object(string Key, DateTime ChangedUtc);

/// <summary>
/// The five requests of S3's protocol that an archive needs. Every request names the SHA-256 of what it sends, and the server refuses
/// other bytes: an object is there whole or not at all.
/// </summary>
/// <remarks>
/// Written here and not taken from a library: Amazon's adds 4 MB to the native program, another one looks for members at run time.
/// https://docs.aws.amazon.com/AmazonS3/latest/API/API_Operations_Amazon_Simple_Storage_Service.html
/// </remarks>
/// <param name="address">The bucket.</param>
/// <param name="keys">Who asks.</param>
/// <param name="clock">Tells the time of requests; null for the system's. An archive's own clock may be any.</param>
/// <exception cref="S3Fault">Every method: it cannot be done.</exception>
internal sealed class S3Client(S3Address address, S3Keys keys, TimeProvider? clock = null)
{
    /// <summary>How long a server may take to be connected to.</summary>
    private static readonly TimeSpan s_connecting = TimeSpan.FromSeconds(15);

    /// <summary>How long a whole request may take, a large photo on a slow line included.</summary>
    private static readonly TimeSpan s_answering = TimeSpan.FromMinutes(5);

    /// <summary>How long to wait after a try that failed; the last one stands.</summary>
    private static readonly TimeSpan[] s_pauses = [TimeSpan.FromSeconds(0.2), TimeSpan.FromSeconds(0.8)];

    /// <summary>By server: the connections of a process are used again.</summary>
    private static readonly ConcurrentDictionary<(Uri, string?), HttpClient> s_clients = new();

    private readonly TimeProvider _clock = clock ?? TimeProvider.System;

    /// <summary>Objects told in one answer of a list; null for as many as the server likes.</summary>
    public int? ListedAtOnce { get; init; }

    /// <summary>The bytes of an object; null where it is not there.</summary>
    public byte[]? Get(string key)
    {
        using HttpResponseMessage? answer = SendForObject(HttpMethod.Get, key);
        if (answer is null) return null;
        using Stream body = answer.Content.ReadAsStream();
        byte[] bytes = new byte[body.Length];
        body.ReadExactly(bytes);
        return bytes;
    }

    /// <summary>The size of an object, bytes; null where it is not there.</summary>
    public long? SizeOf(string key)
    {
        using HttpResponseMessage? answer = SendForObject(HttpMethod.Head, key);
        return answer?.Content.Headers.ContentLength;
    }

    /// <summary>Puts an object, in place of one that has its name.</summary>
    /// <param name="key">Its name.</param>
    /// <param name="sha256">SHA-256 of its bytes.</param>
    /// <param name="open">Opens its bytes, once for each try.</param>
    public void Put(string key, string sha256, Func<Stream> open) => Send(HttpMethod.Put, key, [], sha256, open).Dispose();

    /// <summary>Deletes an object; one that is not there is no fault.</summary>
    public void Delete(string key) => SendForObject(HttpMethod.Delete, key)?.Dispose();

    /// <summary>The objects whose names begin with a text, in the order of their names.</summary>
    public IEnumerable<S3Object> List(string start)
    {
        string? token = null;
        do
        {
            List<(string, string)> query = [("list-type", "2"), ("prefix", start)];
            if (ListedAtOnce is { } most) query.Add(("max-keys", most.ToString(CultureInfo.InvariantCulture)));
            if (token is not null) query.Add(("continuation-token", token));
            XElement list = Listed(query);
            foreach (XElement found in list.Elements().Where(part => part.Name.LocalName == "Contents"))
            {
                yield return new(Part(found, "Key")!, DateTimeOffset.Parse(
                    Part(found, "LastModified")!, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal).UtcDateTime);
            }

            token = Part(list, "IsTruncated") == "true" ? Part(list, "NextContinuationToken") : null;
        }
        while (token is not null);
    }

    private XElement Listed(List<(string, string)> query)
    {
        using HttpResponseMessage answer = Send(HttpMethod.Get, "", query, S3Signature.OfNothing, null);
        using Stream body = answer.Content.ReadAsStream();
        try
        {
            return XDocument.Load(body).Root!;
        }
        catch (XmlException)
        {
            throw S3Fault.Of(answer, address, _clock.GetUtcNow());
        }
    }

    private static string? Part(XElement element, string name) =>
        element.Elements().FirstOrDefault(part => part.Name.LocalName == name)?.Value;

    /// <summary>The answer to a request for an object; null where it is not there. A bucket that is not there is a fault.</summary>
    private HttpResponseMessage? SendForObject(HttpMethod method, string key)
    {
        HttpResponseMessage answer = Send(method, key, [], S3Signature.OfNothing, null, mayBeGone: true);
        if (answer.StatusCode != HttpStatusCode.NotFound) return answer;
        answer.Dispose();
        return null;
    }

    private HttpResponseMessage Send(
        HttpMethod method, string key, IReadOnlyList<(string, string)> query, string sha256, Func<Stream>? open, bool mayBeGone = false)
    {
        for (int tries = 0; ; tries++)
        {
            S3Fault fault;
            bool mayPass;
            try
            {
                using HttpRequestMessage request = Request(method, key, query, sha256, open);
                HttpResponseMessage answer = Client().Send(request);
                if (answer.IsSuccessStatusCode) return answer;
                fault = S3Fault.Of(answer, address, _clock.GetUtcNow());
                if (mayBeGone && answer.StatusCode == HttpStatusCode.NotFound && fault.Refusal.Code != Codes.StoreNoBucket) return answer;
                mayPass = (int)answer.StatusCode is 429 or >= 500;
                answer.Dispose();
            }
            catch (Exception e) when (S3Fault.Of(e, address) is not null)
            {
                fault = S3Fault.Of(e, address)!;
                mayPass = e is HttpRequestException && fault.Refusal.Code == Codes.StoreUnreachable;
            }

            if (!mayPass || tries == s_pauses.Length) throw fault;
            Thread.Sleep(s_pauses[tries]);
        }
    }

    private HttpRequestMessage Request(
        HttpMethod method, string key, IReadOnlyList<(string, string)> query, string sha256, Func<Stream>? open)
    {
        string path = $"/{address.Bucket}{(key.Length == 0 ? "" : "/")}{S3Signature.Escaped(key)}";
        string asked = S3Signature.Query(query);
        HttpRequestMessage request = new(method, new Uri(address.Server, asked.Length == 0 ? path : $"{path}?{asked}"));
        Dictionary<string, string> headers = new()
        {
            ["host"] = address.Server.Authority,
            ["x-amz-content-sha256"] = sha256,
            ["x-amz-date"] = S3Signature.Time(_clock.GetUtcNow()),
        };
        if (keys.Token is { } token) headers["x-amz-security-token"] = token;
        // A library's notion of what a header may hold is another than the protocol's.
        request.Headers.TryAddWithoutValidation("Authorization", S3Signature.Of(method.Method, path, query, headers, address.Region, keys));
        foreach ((string name, string value) in headers) request.Headers.TryAddWithoutValidation(name, value);
        if (open is not null) request.Content = new StreamContent(open());
        return request;
    }

    private HttpClient Client() => s_clients.GetOrAdd((address.Server, address.Authority), _ =>
    {
        SocketsHttpHandler handler = new() { AllowAutoRedirect = false, UseCookies = false, ConnectTimeout = s_connecting };
        if (address.Authority is { } file) handler.SslOptions = new() { CertificateChainPolicy = TrustIn(file) };
        return new(handler) { Timeout = s_answering };
    });

    /// <summary>Trusts nobody but whom a file names; revocation is not asked for, as with the database.</summary>
    private static X509ChainPolicy TrustIn(string file)
    {
        X509ChainPolicy policy = new() { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck };
        policy.CustomTrustStore.ImportFromPemFile(file);
        return policy;
    }
}
