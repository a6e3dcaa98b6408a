using System.Text.RegularExpressions;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Where a workshop's files stand in an object store that speaks Amazon's S3 protocol. The keys to it are no part of this; see
/// <see cref="S3Keys"/>.
/// </summary>
/// <param name="Server">The store: <c>https://store.example:9000</c>.</param>
/// <param name="Bucket">The bucket.</param>
/// <param name="Prefix">What the names of all files begin with: empty, or with a slash at its end.</param>
/// <param name="Region">The region that requests are signed for.</param>
/// <param name="Authority">File of the certificate that the server's own is signed with; null for those that the system trusts.</param>
internal sealed partial record S3Address(Uri Server, string Bucket, string Prefix, string Region, string? Authority)
{
    /// <summary>What the address of files in a store begins with.</summary>
    public const string Scheme = "s3://";

    /// <summary>What servers that have no regions take.</summary>
    private const string UsualRegion = "us-east-1";

    /// <summary>The bucket and what is in it, as paths begin.</summary>
    public string Root => $"{Scheme}{Bucket}/";

    /// <summary>Where the files are, for people.</summary>
    public string Name => $"{Root}{Prefix}".TrimEnd('/');

    /// <summary>Reads an address.</summary>
    /// <param name="files">Bucket and prefix: <c>s3://cards/shop</c>.</param>
    /// <param name="server">The server; null where none was given.</param>
    /// <param name="region">The region; null for the usual one.</param>
    /// <param name="authority">File of a certificate; null for none.</param>
    public static Outcome<S3Address> Of(string files, string? server, string? region, string? authority)
    {
        if (Form().Match(files) is not { Success: true } form) return Refusal.OfInput(Codes.StoreAddress);
        if (!Uri.TryCreate(server, UriKind.Absolute, out Uri? uri) || uri.Scheme is not ("http" or "https"))
            return Refusal.OfInput(Codes.StoreAddress);
        if (uri.UserInfo.Length > 0) return Refusal.OfInput(Codes.StoreKeysInAddress);
        if (uri.AbsolutePath != "/" || uri.Query.Length > 0) return Refusal.OfInput(Codes.StoreAddress);
        if (uri.Scheme == "http" && !PostgresAddress.IsThisMachine(uri.DnsSafeHost))
            return Refusal.OfInput(Codes.StorePlain, ("store", uri.Authority));
        string prefix = form.Groups["prefix"].Value.Trim('/');
        return new S3Address(uri, form.Groups["bucket"].Value, prefix.Length == 0 ? "" : $"{prefix}/", region ?? UsualRegion, authority);
    }

    [GeneratedRegex(
        @"^s3://(?<bucket>[A-Za-z0-9][A-Za-z0-9._-]{2,62})(/(?<prefix>([A-Za-z0-9_-][A-Za-z0-9._-]*/?)*))?\z",
        RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Form();
}
