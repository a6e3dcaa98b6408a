using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>How routes answer.</summary>
internal static class Answer
{
    private const string Html = "text/html; charset=utf-8";

    /// <summary>Tells the page's script where to go.</summary>
    public const string GoHeader = "X-CardScan-Go";

    /// <summary>A whole page.</summary>
    public static IResult Page(string page) => Results.Content(page, Html);

    /// <summary>A part of a page, for the place that asked for it.</summary>
    public static IResult Part(XElement part, int status = StatusCodes.Status200OK) =>
        Results.Content(Markup.WritePart(part), Html, statusCode: status);

    /// <summary>True where a page's script asks for a part of it, not a browser for the whole.</summary>
    public static bool IsForPart(HttpContext context) => context.Request.Headers.ContainsKey(DoorKeeper.OwnHeader);

    /// <summary>Another page, after something was done.</summary>
    public static IResult Go(HttpContext context, string path)
    {
        context.Response.Headers[GoHeader] = path;
        return Results.NoContent();
    }

    /// <summary>A refusal where a part was asked for.</summary>
    public static IResult Refused(Refusal refusal) => Part(RefusalPart.Write(refusal), StatusOf(refusal));

    /// <summary>A refusal where a page was asked for.</summary>
    public static IResult RefusedPage(HttpContext context, Refusal refusal) =>
        Results.Content(Shell.Refused(context, refusal), Html, statusCode: StatusOf(refusal));

    /// <summary>No such page.</summary>
    public static IResult Missing(HttpContext context) =>
        Results.Content(Shell.Missing(context), Html, statusCode: StatusCodes.Status404NotFound);

    /// <summary>Tells speeds as whoever asks has chosen.</summary>
    public static async Task InWordsOf(HttpContext context, RequestDelegate next, Workshop shop)
    {
        Outcome<Workflow.Preferences> kept = shop.ProfilesOf(context).ReadPreferences();
        using IDisposable told = Voice.TellSpeedsIn(kept.IsRefused ? SpeedUnit.MmPerMin : kept.Value.Speeds ?? SpeedUnit.MmPerMin);
        await next(context);
    }

    /// <summary>Answers a request in the words of the page, and turns a fault into words.</summary>
    public static async Task WithCare(HttpContext context, RequestDelegate next)
    {
        using IDisposable said = Voice.SpeakOnPage();
        try
        {
            await next(context);
        }
        catch (Exception e) when (e is OperationCanceledException or IOException && context.RequestAborted.IsCancellationRequested)
        {
            // Whoever asked is gone.
        }
        catch (BadHttpRequestException e)
        {
            if (!context.Response.HasStarted) context.Response.StatusCode = e.StatusCode;
        }
#pragma warning disable CA1031 // the last resort: a person gets a sentence, and the others their pages
        catch (Exception e) when (!context.Response.HasStarted)
#pragma warning restore CA1031
        {
            context.Response.StatusCode = StatusCodes.Status500InternalServerError;
            context.Response.ContentType = Html;
            await context.Response.WriteAsync(Markup.WritePart(RefusalPart.Write(Fault(e))));
        }
    }

    /// <summary>A fault of the program as a refusal.</summary>
    public static Refusal Fault(Exception e) => Refusal.OfPlace(
        Codes.ProgramFault, ("type", e.GetBaseException().GetType().Name), ("cause", e.GetBaseException().Message.TrimEnd('.')));

    /// <summary>The status that goes with a refusal.</summary>
    public static int StatusOf(Refusal refusal) => refusal.Kind switch
    {
        _ when refusal.Code is Codes.InboxFull or Codes.InboxYoursFull => StatusCodes.Status429TooManyRequests,
        RefusalKind.UnusablePlace => StatusCodes.Status507InsufficientStorage,
        _ when refusal.Code is Codes.ArchiveNoSuch or Codes.ArchiveNoCard or Codes.ArchiveNoReading => StatusCodes.Status404NotFound,
        _ => StatusCodes.Status422UnprocessableEntity,
    };
}
