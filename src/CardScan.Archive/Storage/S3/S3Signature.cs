using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace CardScan.Archive;

/// <summary>Signs a request with Amazon's Signature Version 4, as every server of S3's protocol checks it.</summary>
/// <remarks>https://docs.aws.amazon.com/AmazonS3/latest/API/sig-v4-header-based-auth.html</remarks>
internal static class S3Signature
{
    private const string Algorithm = "AWS4-HMAC-SHA256";

    /// <summary>SHA-256 of no bytes.</summary>
    public const string OfNothing = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";

    /// <summary>A time as requests tell it.</summary>
    public static string Time(DateTimeOffset time) => time.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);

    /// <summary>A path or name as it stands in an address; slashes stay.</summary>
    public static string Escaped(string text) => string.Join('/', text.Split('/').Select(Uri.EscapeDataString));

    /// <summary>The value of the header "Authorization".</summary>
    /// <param name="method">GET, PUT, HEAD or DELETE.</param>
    /// <param name="path">The escaped path, with the slash that it begins with.</param>
    /// <param name="query">Names and values of the query, not escaped.</param>
    /// <param name="headers">
    /// The headers that are signed, names in small letters: "host", "x-amz-content-sha256" and "x-amz-date" are among them.
    /// </param>
    /// <param name="region">The store's region.</param>
    /// <param name="keys">Who asks.</param>
    public static string Of(
        string method, string path, IEnumerable<(string Name, string Value)> query,
        IReadOnlyDictionary<string, string> headers, string region, S3Keys keys)
    {
        string[] names = [.. headers.Keys.Order(StringComparer.Ordinal)];
        string signed = string.Join(';', names), time = headers["x-amz-date"], scope = $"{time[..8]}/{region}/s3/aws4_request";
        string request = string.Join('\n', [
            method, path, Query(query), .. names.Select(name => $"{name}:{headers[name].Trim()}"), "", signed,
            headers["x-amz-content-sha256"]]);
        string toSign = $"{Algorithm}\n{time}\n{scope}\n{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(request)))}";
        byte[] key = Encoding.UTF8.GetBytes($"AWS4{keys.Secret}");
        foreach (string part in scope.Split('/')) key = Mac(key, part);
        return $"{Algorithm} Credential={keys.Id}/{scope},SignedHeaders={signed},Signature={Convert.ToHexStringLower(Mac(key, toSign))}";
    }

    /// <summary>A query as it is signed and sent.</summary>
    public static string Query(IEnumerable<(string Name, string Value)> query) => string.Join('&', query
        .Select(pair => $"{Uri.EscapeDataString(pair.Name)}={Uri.EscapeDataString(pair.Value)}").Order(StringComparer.Ordinal));

    private static byte[] Mac(byte[] key, string text) => HMACSHA256.HashData(key, Encoding.UTF8.GetBytes(text));
}
