using System.Globalization;
using System.Text;
using System.Xml;
using System.Xml.Linq;
using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Draws a plan as SVG at true size, each setting in a colour of its own.</summary>
internal static class CardDrawing
{
    internal static readonly XNamespace Svg11 = "http://www.w3.org/2000/svg";

    private static readonly string[] Corners = ["top-left", "top-right", "bottom-right", "bottom-left"];

    /// <summary>Width of the line that stands for a path of the beam, mm; the path is its middle.</summary>
    private const double PathLineMm = 0.1;

    /// <summary>Everything, step by step in the order of burning.</summary>
    internal static string Svg(Plan plan) => Svg(plan, TitleOf(plan), BurnSteps.Of(plan));

    /// <summary>One step alone, in its place and colour.</summary>
    internal static string Svg(Plan plan, BurnStep step) => Svg(
        plan, Voice.Say("planning.drawing.part", ("title", TitleOf(plan)), ("part", NameOf(step, plan))), [step]);

    private static string Svg(Plan plan, string title, IEnumerable<BurnStep> steps)
    {
        BurnFrame frame = BurnFrame.Of(plan);
        XElement root = new(Svg11 + "svg",
            new XAttribute("width", $"{Place(frame.WidthMm)}mm"),
            new XAttribute("height", $"{Place(frame.HeightMm)}mm"),
            new XAttribute("viewBox", $"{Place(frame.LeftMm)} {Place(frame.TopMm)} {Place(frame.WidthMm)} {Place(frame.HeightMm)}"),
            Title(title),
            new XElement(Svg11 + "desc", string.Join(" ", Cautions.For(plan.Machine))),
            steps.Select(step => StepOf(step, plan)));
        return root + "\n";
    }

    private static XElement StepOf(BurnStep step, Plan plan) =>
        new(Svg11 + "g",
            new XAttribute("id", $"step-{step.Order}"),
            new XAttribute("class", "step"),
            new XAttribute("data-order", step.Order),
            PaintOf(step),
            step.Kind switch
            {
                StepKind.Markers => BurnFrame.BurnedMarkers(plan).Zip(Corners, (marker, corner) => MarkerOf(marker, corner, plan)),
                StepKind.Labels => CardLabels.Of(plan).Select(LabelOf),
                _ => step.Cells.Select(cell => CellOf(cell, plan)),
            });

    private static XAttribute[] PaintOf(BurnStep step) => step.IsFill
        ? [new("fill", step.Colour)]
        : Lined(step.Colour, step.Kind == StepKind.Labels ? CardLabels.StrokeMm : PathLineMm);

    private static XAttribute[] Lined(string colour, double widthMm) =>
    [
        new("fill", "none"),
        new("stroke", colour),
        new("stroke-width", Place(widthMm)),
        new("stroke-linecap", "round"),
        new("stroke-linejoin", "round"),
    ];

    private static string NameOf(BurnStep step, Plan plan) => step.Kind == StepKind.Cells
        ? Voice.Tell(step.Settings!.ToFigure(plan))
        : Voice.Say("planning.drawing.step", ("kind", $"{step.Kind}"));

    private static XElement MarkerOf(Marker marker, string corner, Plan plan) =>
        new(Svg11 + "g",
            new XAttribute("class", "marker"),
            new XAttribute("data-id", marker.Id),
            Title(Voice.Say("planning.drawing.marker", ("id", marker.Id), ("corner", corner))),
            new XElement(Svg11 + "path", new XAttribute("d", MarkerPath(marker, plan.Fiducials.SideMm))));

    /// <summary>One path for the whole marker, a rectangle for each run of burned modules: separate shapes would show seams.</summary>
    internal static string MarkerPath(Marker marker, double sideMm)
    {
        double module = sideMm / MarkerPattern.Modules;
        StringBuilder path = new();
        for (int row = 0; row < MarkerPattern.Modules; row++)
        {
            foreach ((int start, int length) in MarkerPattern.Runs(marker.Id, row))
            {
                string width = Place(length * module), left = Place(marker.XMm + start * module), top = Place(marker.YMm + row * module);
                path.Append(CultureInfo.InvariantCulture, $"M{left} {top}h{width}v{Place(module)}h-{width}z");
            }
        }

        return path.ToString();
    }

    private static XElement CellOf(Cell cell, Plan plan)
    {
        CellSettings settings = plan.SettingsOf(cell);
        XElement group = new(Svg11 + "g",
            new XAttribute("class", "cell"),
            new XAttribute("data-row", cell.Row + 1),
            new XAttribute("data-column", cell.Column + 1),
            new XAttribute("data-power-percent", Exact(settings.PowerPercent)),
            new XAttribute("data-speed-mm-per-min", Exact(settings.SpeedMmPerMin)),
            new XAttribute("data-passes", settings.Passes),
            new XAttribute("data-focus-offset-mm", Exact(settings.FocusOffsetMm)),
            settings.LineIntervalMm is { } interval ? new XAttribute("data-line-interval-mm", Exact(interval)) : null,
            Title(Voice.Say("planning.drawing.cell",
                ("row", cell.Row + 1), ("column", cell.Column + 1), ("setting", settings.ToFigure(plan)))),
            ShapeOf(cell));
        return group;
    }

    internal static XElement ShapeOf(Cell cell)
    {
        if (cell.Lines is { } lines) return Path(lines.SelectMany(Ends));
        if (cell.Tabs is { Count: > 0 }) return Path(CellOutline.Of(cell));
        return new(Svg11 + "rect",
            new XAttribute("x", Place(cell.XMm)),
            new XAttribute("y", Place(cell.YMm)),
            new XAttribute("width", Place(cell.WidthMm)),
            new XAttribute("height", Place(cell.HeightMm)));
    }

    private static (double X, double Y, bool IsOn)[] Ends(BurnedLine line) =>
        [(line.FromXMm, line.FromYMm, false), (line.ToXMm, line.ToYMm, true)];

    private static XElement Path(IEnumerable<(double X, double Y, bool IsOn)> points)
    {
        IEnumerable<string> steps = points.Select(point => $"{(point.IsOn ? 'L' : 'M')}{Place(point.X)} {Place(point.Y)}");
        return new(Svg11 + "path", new XAttribute("d", string.Concat(steps)));
    }

    internal static XElement LabelOf(CardLabel label)
    {
        string place = label.IsUpward
            ? $"translate({Place(label.XMm)} {Place(label.YMm + label.HeightMm)}) rotate(-90)"
            : $"translate({Place(label.XMm)} {Place(label.YMm)})";
        return new(Svg11 + "g",
            new XAttribute("class", "label"),
            Title(label.Text),
            new XElement(
                Svg11 + "path", new XAttribute("transform", place), new XAttribute("d", StrokeFont.PathOf(label.Text, label.UnitMm))));
    }

    internal static string TitleOf(Plan plan) => Voice.Say("planning.drawing.title",
    [
        ("number", plan.Number), ("material", plan.Material.Name), ("machine", plan.Machine.Name),
        .. Known(("title", Text(plan.Title))),
    ]);

    internal static XElement Title(string text) => new(Svg11 + "title", string.Concat(text.Where(XmlConvert.IsXmlChar)));

    internal static string Place(double mm) => mm.ToString("0.####", CultureInfo.InvariantCulture);

    private static string Exact(double value) => value.ToString(CultureInfo.InvariantCulture);
}
