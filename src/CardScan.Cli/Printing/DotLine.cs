using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Dots of a chart as lines of text, one a card: the middle is 1, brackets are the limits of chance.</summary>
/// <param name="farthest">What the ends of the line stand for, ln.</param>
internal sealed class DotLine(double farthest)
{
    private const int Half = 12;

    /// <summary>A line that reaches as far as the farthest dot or limit.</summary>
    public static DotLine For(IEnumerable<NeedPoint?> points) =>
        new(points.OfType<NeedPoint>().SelectMany(point => (double[])[Math.Abs(point.Ln), point.Limit ?? 0]).DefaultIfEmpty(0).Max());

    /// <summary>The line of a card: hollow where chance does not explain it; empty where there is nothing to show.</summary>
    public string Of(NeedPoint? point)
    {
        if (point is null || !(farthest > 0)) return "";
        char[] line = new string(' ', 2 * Half + 1).ToCharArray();
        line[Half] = '│';
        if (point.Limit is { } limit) (line[At(-limit)], line[At(limit)]) = ('[', ']');
        line[At(point.Ln)] = point.IsUnexplained ? '◇' : '●';
        return new(line);
    }

    private int At(double ln) => Half + (int)Math.Round(Half * ln / farthest);
}
