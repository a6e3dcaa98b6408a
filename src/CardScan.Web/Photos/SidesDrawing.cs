using System.Globalization;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>
/// A cut card as photos have shown it: sides that were seen drawn through, others in dashes, and where to hold the phone next.
/// </summary>
internal static class SidesDrawing
{
    /// <summary>Radius of the ring over which the phone is held, as a share of the card's shorter side.</summary>
    private const double RingShare = 0.14;

    public static XElement Write(Reading reading, PhotoGuide guide)
    {
        Plan plan = reading.Plan;
        (double width, double height) = (plan.Card.WidthMm, plan.Card.HeightMm);
        Dictionary<(int, int), Sides?> found = reading.Cells.ToDictionary(cell => (cell.Row, cell.Column), cell => cell.Sides);
        return new(
            "svg", Html.Class("sides"), new XAttribute("viewBox", $"-1 -1 {Text(width + 2)} {Text(height + 2)}"),
            new XAttribute("role", "img"),
            new XAttribute("aria-label", Words(guide, plan)),
            new XElement("rect", Html.Class("card"), At("width", width), At("height", height), At("rx", 2)),
            plan.Cells.SelectMany(cell => SidesOf(cell, found.GetValueOrDefault((cell.Row, cell.Column)))),
            guide is { IsSettled: false, HoldAt: { } at } ? Ring(at, RingShare * Math.Min(width, height)) : null);
    }

    /// <summary>The same in words, with what to do.</summary>
    public static string Words(PhotoGuide guide, Plan plan)
    {
        List<(string, Figure)> values =
        [
            ("seen", guide.SeenSides), ("all", guide.AllSides),
            ("kind", guide.HoldAt is null ? "all" : guide.IsSettled ? "settled" : "more"),
        ];
        if (guide.HoldAt is { } at)
        {
            values.Add(("down", at.YMm < plan.Card.HeightMm / 2 ? "upper" : "lower"));
            values.Add(("across", at.XMm < plan.Card.WidthMm / 2 ? "left" : "right"));
        }

        return Voice.Say("web.sides", values);
    }

    private static IEnumerable<XElement> SidesOf(Cell cell, Sides? sides)
    {
        (double left, double top, double right, double bottom) = (cell.XMm, cell.YMm, cell.XMm + cell.WidthMm, cell.YMm + cell.HeightMm);
        yield return Side(sides?.Left, left, top, left, bottom);
        yield return Side(sides?.Right, right, top, right, bottom);
        yield return Side(sides?.Top, left, top, right, top);
        yield return Side(sides?.Bottom, left, bottom, right, bottom);
    }

    private static XElement Side(SideReading? side, double x1, double y1, double x2, double y2) => new(
        "line", Html.Class(side is null or { State: SideState.Unseen } ? "unseen" : "seen"),
        At("x1", x1), At("y1", y1), At("x2", x2), At("y2", y2));

    private static XElement Ring((double XMm, double YMm) at, double radius) => new(
        "g", Html.Class("hold"),
        new XElement("circle", At("cx", at.XMm), At("cy", at.YMm), At("r", radius)),
        new XElement("circle", Html.Class("middle"), At("cx", at.XMm), At("cy", at.YMm), At("r", radius / 5)));

    private static XAttribute At(string name, double value) => new(name, Text(value));

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
