using CardScan.Language;
using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Lays out a grey strip: a row of printed greys between four markers, on a card of its own.</summary>
internal static class GreyStrip
{
    private const double WidthMm = 132, HeightMm = 38, EdgeMm = 4, MarkerSideMm = 10;

    /// <summary>From the markers' inner edges to the first and the last grey, mm.</summary>
    private const double ClearMm = 5;

    /// <summary>Greys are as wide as marks on most cards, and as far apart, so that a photo that measures those measures these.</summary>
    private const double GreyMm = 7, GreyHeightMm = 14;

    /// <summary>Densities that are asked for; the nearest grey of 8 bits is printed, and its own density recorded.</summary>
    private static readonly double[] Densities = [0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.1, 1.3];

    /// <summary>The strip of a number.</summary>
    /// <param name="number">The card's number, 0 to 249.</param>
    internal static Plan Of(int number)
    {
        CardSize size = new() { WidthMm = WidthMm, HeightMm = HeightMm };
        double left = EdgeMm + MarkerSideMm + ClearMm, room = WidthMm - 2 * left - GreyMm;
        ValueList<double> densities = Densities.Select(density => FrameLayout.DensityOf(FrameLayout.GreyOf(density))).ToValueList();
        return new()
        {
            Format = Plan.CurrentFormat,
            Number = number,
            Title = Voice.Say("planning.strip.name"),
            Process = Process.Engrave,
            Kind = CardKind.GreyStrip,
            Material = new() { Name = Voice.Say("planning.strip.material") },
            Machine = new() { Name = Voice.Say("planning.strip.machine"), RatedOpticalWatts = 0 },
            Card = size,
            Fiducials = CardLayout.Corners(number, size, EdgeMm, MarkerSideMm),
            Columns = new() { Setting = Setting.PrintedDensity, Values = densities },
            Rows = new() { Setting = Setting.Passes, Values = [1] },
            Cells = densities.Select((_, column) => new Cell
            {
                Row = 0,
                Column = column,
                XMm = CellContent.Rounded(left + room * column / (densities.Count - 1)),
                YMm = (HeightMm - GreyHeightMm) / 2,
                WidthMm = GreyMm,
                HeightMm = GreyHeightMm,
            }).ToValueList(),
        };
    }
}
