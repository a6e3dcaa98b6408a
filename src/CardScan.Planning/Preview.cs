using System.Xml.Linq;
using CardScan.Language;
using CardScan.Model;
using SkiaSharp;

namespace CardScan.Planning;

/// <summary>Paints what the beam will do, stroke by stroke: the same strokes that the machine file holds.</summary>
internal static class Preview
{
    /// <summary>Scale, px/mm, where the picture does not become too large for it.</summary>
    private const double PxPerMm = 12, MostPx = 2400;

    /// <summary>Width of a single line of the beam where the profile does not tell, mm.</summary>
    private const double LineMm = 0.2;

    /// <summary>Neighbouring lines overlap, so that no seams show where a line is narrower than a pixel or two.</summary>
    private const double Overlap = 2;

    private static readonly SKColor Bare = new(0xEA, 0xDD, 0xC6), Burned = new(0x3A, 0x26, 0x1A);

    internal static byte[] Png(Plan plan)
    {
        BurnJob job = BurnJob.Of(plan);
        double scale = Math.Min(PxPerMm, MostPx / Math.Max(job.Frame.WidthMm, job.Frame.HeightMm));
        int width = (int)Math.Ceiling(job.Frame.WidthMm * scale), height = (int)Math.Ceiling(job.Frame.HeightMm * scale);
        using SKBitmap bitmap = new(width, height);
        using SKCanvas canvas = new(bitmap);
        canvas.Clear(Bare);
        canvas.Scale((float)scale, (float)-scale);
        canvas.Translate(0, (float)-job.Frame.HeightMm);
        (double least, double most) = Doses(job);
        foreach (Piece piece in job.Pieces) Paint(canvas, piece, plan, Shade(piece, least, most));
        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return PngText.Add(png.AsSpan(), [("Description", Voice.Say("planning.preview")), OwnPicture.Maker, OwnPicture.Card(plan)]);
    }

    /// <summary>
    /// The same as a drawing without a size of its own, which is made in a moment; filled cells are areas in it, their lines are
    /// not told apart.
    /// </summary>
    internal static string Svg(Plan plan)
    {
        BurnJob job = BurnJob.Of(plan);
        (double least, double most) = Doses(job);
        XNamespace svg = CardDrawing.Svg11;
        string left = CardDrawing.Place(job.Frame.LeftMm), top = CardDrawing.Place(job.Frame.TopMm),
            width = CardDrawing.Place(job.Frame.WidthMm), height = CardDrawing.Place(job.Frame.HeightMm);
        return new XElement(svg + "svg",
            new XAttribute("viewBox", $"{left} {top} {width} {height}"), new XAttribute("class", "preview"),
            new XAttribute("preserveAspectRatio", "xMinYMin"), new XAttribute("role", "img"),
            CardDrawing.Title(CardDrawing.TitleOf(plan)),
            new XElement(svg + "rect", new XAttribute("x", left), new XAttribute("y", top), new XAttribute("width", width),
                new XAttribute("height", height), Fill(Bare)),
            new XElement(svg + "g", Fill(Burned), BurnFrame.BurnedMarkers(plan).Select(marker =>
                new XElement(svg + "path", new XAttribute("d", CardDrawing.MarkerPath(marker, plan.Fiducials.SideMm))))),
            new XElement(svg + "g", Line(Burned, CardLabels.StrokeMm), CardLabels.Of(plan).Select(CardDrawing.LabelOf)),
            job.Pieces.Where(piece => piece.Cell is not null).OrderBy(piece => (piece.Cell!.Row, piece.Cell.Column)).Select(piece => Drawn(
                svg, piece, plan, Shade(piece, least, most)))).ToString(SaveOptions.DisableFormatting);
    }

    private static XElement Drawn(XNamespace svg, Piece piece, Plan plan, SKColor shade) => new(
        svg + "g", piece.IsFill ? Fill(shade) : Line(shade, WidthMm(piece, plan)),
        CardDrawing.Title(Voice.Say("planning.drawing.cell", ("row", piece.Cell!.Row + 1), ("column", piece.Cell.Column + 1),
            ("setting", plan.SettingsOf(piece.Cell).ToFigure(plan)))),
        CardDrawing.ShapeOf(piece.Cell));

    private static XAttribute Fill(SKColor color) => new("fill", Hex(color));

    private static XAttribute[] Line(SKColor color, double widthMm) =>
        [new("fill", "none"), new("stroke", Hex(color)), new("stroke-width", CardDrawing.Place(widthMm)), new("stroke-linecap", "round")];

    private static string Hex(SKColor color) => $"#{color.Red:x2}{color.Green:x2}{color.Blue:x2}";

    private static (double Least, double Most) Doses(BurnJob job)
    {
        double[] doses = [.. job.Pieces.Where(piece => piece.Cell is not null).Select(Dose)];
        return (doses.Min(), doses.Max());
    }

    private static double Dose(Piece piece) =>
        piece.BurnedMm * piece.PowerPercent / piece.SpeedMmPerMin / (piece.Cell is { } cell ? cell.WidthMm * cell.HeightMm : 1);

    /// <summary>From light to dark with the logarithm of the dose: an order, no promise of how the material will look.</summary>
    private static SKColor Shade(Piece piece, double least, double most)
    {
        double share = piece.Cell is null || most <= least ? 1 : Math.Log(Dose(piece) / least) / Math.Log(most / least);
        double weight = 0.3 + 0.7 * share;
        return new(Mixed(Bare.Red, Burned.Red, weight), Mixed(Bare.Green, Burned.Green, weight), Mixed(Bare.Blue, Burned.Blue, weight));
    }

    private static byte Mixed(byte bare, byte burned, double weight) => (byte)Math.Round(bare + (burned - bare) * weight);

    private static void Paint(SKCanvas canvas, Piece piece, Plan plan, SKColor color)
    {
        using SKPaint paint = new() { Color = color, IsAntialias = true, IsStroke = true, StrokeWidth = (float)WidthMm(piece, plan) };
        foreach ((MachinePoint from, MachinePoint to, bool isOn) in piece.Strokes.SelectMany(stroke => stroke.Parts()))
        {
            if (isOn) canvas.DrawLine((float)from.XMm, (float)from.YMm, (float)to.XMm, (float)to.YMm, paint);
        }
    }

    private static double WidthMm(Piece piece, Plan plan)
    {
        if (!piece.IsFill) return plan.Machine.BeamXMm ?? LineMm;
        double? intervalMm = piece.Cell is null ? plan.Burning!.Marks.LineIntervalMm : plan.SettingsOf(piece.Cell).LineIntervalMm;
        return Overlap * intervalMm!.Value;
    }
}
