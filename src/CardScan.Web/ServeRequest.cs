using System.Net;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>What is served, and to whom.</summary>
/// <param name="Archive">The archive; made where there is none.</param>
/// <param name="Profiles">Machines and materials.</param>
/// <param name="Clock">The time.</param>
public sealed record ServeRequest(ArchivePlace Archive, Profiles Profiles, TimeProvider Clock)
{
    /// <summary>The port that is taken where none is asked for and it is free.</summary>
    public const int UsualPort = 4180;

    /// <summary>Folder that holds the cards of the demo; null where there are none to try.</summary>
    public string? DemoFolder { get; init; }

    /// <summary>The page of a workshop, to be served instead of that of one person; null for the latter.</summary>
    public WorkshopPage? Page { get; init; }

    /// <summary>The port; 0 for any free one, null for the usual one or, where that is taken, any free one.</summary>
    public int? Port { get; init; }

    /// <summary>True to let phones in from the start.</summary>
    public bool LetsPhonesIn { get; init; }

    /// <summary>The address that phones come to; null to choose the one of the local network.</summary>
    public IPAddress? PhoneAddress { get; init; }

    /// <summary>The name that phones have for that address where it is another one: behind a forwarded port.</summary>
    public string? PhoneHost { get; init; }
}
