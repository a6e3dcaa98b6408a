using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>A phone that is remembered, and what is expected of its next photo.</summary>
/// <param name="Entry">What the archive has of it.</param>
public sealed record KnownPhone(PhoneEntry Entry)
{
    /// <summary>The tone curve (<see cref="PhotoResponse.Terms"/>).</summary>
    public required ValueList<double> Terms { get; init; }

    /// <summary>Darkness at which a usual mark, of darkness 0.5, stands in its photos.</summary>
    public required double HalfSeenAs { get; init; }

    /// <summary>What is left to doubt of such a mark's darkness once the curve is undone: relative standard error.</summary>
    public required double DarknessScaleError { get; init; }

    /// <summary>A phone with what is expected of it; null where no series of it tells that.</summary>
    internal static KnownPhone? Of(PhoneEntry entry) =>
        CardReader.ResponseOfPhone([.. entry.Series.Select(series => series.Response)]) is { } curve
            ? new(entry) { Terms = curve.Record.Terms, HalfSeenAs = curve.UsualMarkSeenAs, DarknessScaleError = curve.UsualError }
            : null;
}
