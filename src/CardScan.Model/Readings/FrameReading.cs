using System.Globalization;

namespace CardScan.Model;

/// <summary>How the grid lies in the window of a printed frame sheet, and what the sheet's greys tell of one photo.</summary>
public sealed record FrameReading : Extensible
{
    /// <summary>The grid's middle right of its planned place, by the sheet's millimetres; what the piece's height seems to shift is in it.</summary>
    public required double OffsetXMm { get; init; }

    /// <summary>The grid's middle below its planned place, by the sheet's millimetres.</summary>
    public required double OffsetYMm { get; init; }

    /// <summary>The grid turned against the sheet, degrees, clockwise positive.</summary>
    public required double TurnDeg { get; init; }

    /// <summary>Size of the grid by the sheet's millimetres over its planned size: a sheet printed too small, or a piece that lies higher than the sheet, lets it be above 1.</summary>
    public required double Scale { get; init; }

    /// <summary>RMS distance of the cells' edges from the fitted grid, mm.</summary>
    public required double EdgeRmsMm { get; init; }

    /// <summary>RMS over the grey steps of what is left between their densities and those in the photo after the tone curve is undone; absent where it was not.</summary>
    public double? GreyRms { get; init; }

    /// <summary>Density at which a grey of density 1 stands in the photo as it is; absent where the tone curve was not undone.</summary>
    public double? DensityOneSeenAs { get; init; }

    /// <summary>Where the grid lies in the window and what the greys undid, in a sentence without capital and full stop.</summary>
    public string InWords()
    {
        string across = $"{Tenths(Math.Abs(OffsetXMm))} mm {(OffsetXMm < 0 ? "left" : "right")}", down = $"{Tenths(Math.Abs(OffsetYMm))} mm {(OffsetYMm < 0 ? "up" : "down")}";
        string greys = this is { GreyRms: { } rms, DensityOneSeenAs: { } seen }
            ? $"the greys undo the phone's tones (density 1 looked like {Hundredths(seen)}) to {Hundredths(rms)} in density"
            : "the greys could not be used";
        return $"the grid lies {across}, {down}, turned {Tenths(TurnDeg)}° in the window; its edges fit to {Hundredths(EdgeRmsMm)} mm; {greys}";
    }

    private static string Tenths(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Hundredths(double value) => value.ToString("0.00", CultureInfo.InvariantCulture);
}
