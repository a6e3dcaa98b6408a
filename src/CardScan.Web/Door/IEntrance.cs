using CardScan.Model;

namespace CardScan.Web;

/// <summary>Who is let in at an address, and how.</summary>
internal interface IEntrance
{
    /// <summary>What somebody who is not in is told: a branch of the message "web.outside".</summary>
    public string Outside { get; }

    /// <summary>The address with its port, as browsers send it, belongs to this page.</summary>
    /// <param name="request">A request.</param>
    public bool IsAddressed(HttpRequest request);

    /// <summary>Who sends a request: nobody who is in where it is null; or why that cannot be told now.</summary>
    /// <param name="context">The request.</param>
    public Outcome<Guest?> Know(HttpContext context);

    /// <summary>Answers a request to come in.</summary>
    /// <param name="context">The request.</param>
    /// <param name="code">The code in its address.</param>
    /// <returns>False where it is none.</returns>
    public Task<bool> Enter(HttpContext context, string code);

    /// <summary>Takes a request into account; null where its sender asks for more than one person can want.</summary>
    /// <param name="context">The request.</param>
    /// <param name="guest">Who sends it; null for somebody who is not in.</param>
    /// <returns>What is let go when it was answered.</returns>
    public IDisposable? Count(HttpContext context, Guest? guest);
}
