using System.Globalization;
using System.Xml.Linq;

namespace CardScan.Planning.Tests;

/// <summary>The straight lines of the labels of a drawing, in the card frame.</summary>
internal static class DrawnLabels
{
    internal static IEnumerable<(double X1, double Y1, double X2, double Y2)> Of(string svg)
    {
        foreach (XElement path in XElement.Parse(svg).Descendants()
            .Where(element => element.Name.LocalName == "path" && (string?)element.Parent!.Attribute("class") == "label"))
        {
            string[] place = ((string)path.Attribute("transform")!).Split(['(', ' ', ')'], StringSplitOptions.RemoveEmptyEntries);
            double dx = Number(place[1]), dy = Number(place[2]);
            bool isUpward = place.Length > 3;
            foreach (string line in ((string)path.Attribute("d")!).Split('M', StringSplitOptions.RemoveEmptyEntries))
            {
                (double X, double Y)[] points =
                    [.. line.Split('L').Select(point => point.Split(' ')).Select(xy => (Number(xy[0]), Number(xy[1])))];
                foreach (((double X, double Y) a, (double X, double Y) b) in points.Zip(points.Skip(1)))
                    yield return isUpward ? (dx + a.Y, dy - a.X, dx + b.Y, dy - b.X) : (dx + a.X, dy + a.Y, dx + b.X, dy + b.Y);
            }
        }
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
