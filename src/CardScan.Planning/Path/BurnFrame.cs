using CardScan.Model;

namespace CardScan.Planning;

/// <summary>
/// The part of the plan that lies on the machine: the card, or the piece in a paper mask's window. Its lower left corner is the
/// machine's zero.
/// </summary>
internal sealed record BurnFrame(double LeftMm, double TopMm, double WidthMm, double HeightMm, bool IsCard)
{
    internal static BurnFrame Of(Plan plan) => plan.Frame is { Window: { } window }
        ? new(window.XMm, window.YMm, window.WidthMm, window.HeightMm, IsCard: false)
        : new(0, 0, plan.Card.WidthMm, plan.Card.HeightMm, IsCard: true);

    /// <summary>What lies there, by which messages choose their words.</summary>
    internal string Kind => IsCard ? "card" : "grid";

    /// <summary>A point of the card frame on the machine; the card's y runs down, the machine's away from the front.</summary>
    internal MachinePoint At(double xMm, double yMm) => new(xMm - LeftMm, TopMm + HeightMm - yMm);

    /// <summary>The markers that are burned: none where they are printed.</summary>
    internal static IEnumerable<Marker> BurnedMarkers(Plan plan) => plan.Frame is null ? plan.Fiducials.Markers : [];
}
