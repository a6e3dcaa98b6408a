using CardScan.Language;
using static CardScan.Language.Figures;

namespace CardScan.Model;

/// <summary>How the grid lies in the window of a printed frame sheet, and what the sheet's greys tell of one photo.</summary>
public sealed record FrameReading : Extensible
{
    /// <summary>
    /// The grid's middle right of its planned place, by the sheet's millimetres; what the piece's height seems to shift is
    /// in it.
    /// </summary>
    public required double OffsetXMm { get; init; }

    /// <summary>The grid's middle below its planned place, by the sheet's millimetres.</summary>
    public required double OffsetYMm { get; init; }

    /// <summary>The grid turned against the sheet, degrees, clockwise positive.</summary>
    public required double TurnDeg { get; init; }

    /// <summary>
    /// Size of the grid by the sheet's millimetres over its planned size: a sheet printed too small, or a piece that lies
    /// higher than the sheet, lets it be above 1.
    /// </summary>
    public required double Scale { get; init; }

    /// <summary>RMS distance of the cells' edges from the fitted grid, mm.</summary>
    public required double EdgeRmsMm { get; init; }

    /// <summary>
    /// RMS over the grey steps of what is left between their densities and those in the photo after the tone curve is
    /// undone; absent where it was not.
    /// </summary>
    public double? GreyRms { get; init; }

    /// <summary>Density at which a grey of density 1 stands in the photo as it is; absent where the tone curve was not undone.</summary>
    public double? DensityOneSeenAs { get; init; }

    /// <summary>Where the grid lies in the window and what the greys undid, for a message.</summary>
    public Phrase ToFigure() => new("reading.frame",
    [
        ("across", Mm(Math.Abs(OffsetXMm))), ("x", OffsetXMm < 0 ? "left" : "right"),
        ("down", Mm(Math.Abs(OffsetYMm))), ("y", OffsetYMm < 0 ? "up" : "down"),
        ("turn", In(Unit.Degrees, TurnDeg)), ("edges", Mm(EdgeRmsMm)),
        .. this is { GreyRms: { } rms, DensityOneSeenAs: { } seen }
            ? new (string, Figure)[] { ("greys", In(Unit.Density, rms)), ("seen", In(Unit.Density, seen)) }
            : [],
    ]);
}
