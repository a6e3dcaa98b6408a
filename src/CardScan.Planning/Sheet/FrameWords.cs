using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What to do with a frame sheet, a paragraph each.</summary>
internal static class FrameWords
{
    internal static IEnumerable<string> Of(Plan plan) =>
    [
        $"Frame sheet of card {plan.Number}",
        "1. Print the first page at 100 %, on white matt paper, without \"fit to page\" and without colour correction.",
        $"2. Check the print: the scale on the left is {plan.Frame!.Rulers[1].ToYMm - plan.Frame.Rulers[1].FromYMm:0} mm. If it is off by more than half a millimetre, print again without scaling.",
        "3. Cut the window out along the dashes, and the sheet along its outer line. Markers, greys and scales stay on the sheet.",
        $"4. Burn the grid with card.gcode or card.svg: the lower left corner of the {plan.Frame.Window.WidthMm:0.#} × {plan.Frame.Window.HeightMm:0.#} mm that the window shows lies at the machine's zero.",
        "5. Let the piece cool. Lay the sheet flat on it, the grid in the window, upright: the first row of the grid towards the scale along the upper edge. If the sheet curls, hold it down where nothing is printed.",
        "6. Photograph the whole sheet from straight above, in soft even light, all four markers free.",
        "The greys are known only as well as the printer prints them. If you can measure them, enter their densities in plan.json, at frame.greySteps.",
        .. Cautions.For(plan.Machine),
    ];
}
