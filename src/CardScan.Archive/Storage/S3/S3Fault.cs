using System.Globalization;
using System.Net;
using System.Security.Authentication;
using System.Xml;
using System.Xml.Linq;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>What an object store and the way to it cause.</summary>
/// <param name="refusal">What people are told.</param>
internal sealed class S3Fault(Refusal refusal) : IOException($"{refusal}")
{
    /// <summary>The longest words of a server that are passed on.</summary>
    private const int MostLetters = 200;

    /// <summary>What people are told.</summary>
    public Refusal Refusal => refusal;

    /// <summary>What keeps a request from being answered; null for a fault of the program.</summary>
    public static S3Fault? Of(Exception exception, S3Address address) => exception switch
    {
        HttpRequestException { HttpRequestError: HttpRequestError.SecureConnectionError } or AuthenticationException =>
            Told(Codes.StoreUntrusted, address, Words(exception)),
        HttpRequestException or TaskCanceledException or TimeoutException => Told(Codes.StoreUnreachable, address, Words(exception)),
        _ => null,
    };

    /// <summary>What an answer that is no success stands for.</summary>
    public static S3Fault Of(HttpResponseMessage answer, S3Address address, DateTimeOffset now)
    {
        (string code, string message) = ErrorIn(answer);
        return code switch
        {
            "NoSuchBucket" => new(Refusal.OfPlace(Codes.StoreNoBucket, ("bucket", address.Bucket), ("store", address.Server.Authority))),
            "RequestTimeTooSkewed" => new(Refusal.OfPlace(
                Codes.StoreClock, ("store", address.Server.Authority), ("here", Clock(now)), ("there", Clock(answer.Headers.Date ?? now)))),
            "InvalidAccessKeyId" or "SignatureDoesNotMatch" or "InvalidToken" or "ExpiredToken" or "TokenRefreshRequired" =>
                Told(Codes.StoreLogin, address, code),
            _ when answer.StatusCode is HttpStatusCode.Unauthorized => Told(Codes.StoreLogin, address, code),
            _ when answer.StatusCode is HttpStatusCode.Forbidden => Told(Codes.StoreNoRight, address, code),
            _ => Told(Codes.StoreFailed, address, message),
        };
    }

    private static S3Fault Told(string code, S3Address address, string why) =>
        new(Refusal.OfPlace(code, ("store", address.Server.Authority), ("place", address.Name), ("why", why)));

    private static string Clock(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    private static string Words(Exception exception) => exception switch
    {
        HttpRequestException { InnerException: AuthenticationException { InnerException: null } inner } => Short(inner.Message),
        HttpRequestException { InnerException: { } inner } => Short(inner.Message),
        TaskCanceledException { InnerException: TimeoutException inner } => Short(inner.Message),
        _ => Short(exception.Message),
    };

    private static string Short(string text)
    {
        string line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).TrimEnd('.');
        return line.Length <= MostLetters ? line : line[..MostLetters];
    }

    /// <summary>The code and words of an answer's text; the status stands for both where it has none.</summary>
    private static (string Code, string Message) ErrorIn(HttpResponseMessage answer)
    {
        string status = Short($"{(int)answer.StatusCode} {answer.ReasonPhrase}");
        try
        {
            using Stream body = answer.Content.ReadAsStream();
            XElement? error = XDocument.Load(body).Root;
            string? Part(string name) => error?.Elements().FirstOrDefault(part => part.Name.LocalName == name)?.Value;
            return (Short(Part("Code") ?? status), Short(Part("Message") is { Length: > 0 } words ? $"{Part("Code")}: {words}" : status));
        }
        catch (XmlException)
        {
            return (status, status);
        }
    }
}
