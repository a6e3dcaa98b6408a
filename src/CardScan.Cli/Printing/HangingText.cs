using Spectre.Console.Rendering;

namespace CardScan.Cli;

/// <summary>Text whose first line begins so many spaces in and whose others so many.</summary>
internal sealed class HangingText(IRenderable text, int first, int others) : IRenderable
{
    /// <summary>A screen narrower than this has no room for spaces.</summary>
    private const int LeastWidth = 20;

    public Measurement Measure(RenderOptions options, int maxWidth) => text.Measure(options, maxWidth);

    /// <summary>Every line is wrapped for the room that the deeper ones have.</summary>
    public IEnumerable<Segment> Render(RenderOptions options, int maxWidth)
    {
        bool isNarrow = maxWidth < LeastWidth;
        IEnumerable<Segment> wrapped = text.Render(options, isNarrow ? maxWidth : maxWidth - Math.Max(first, others));
        foreach ((int line, SegmentLine segments) in Segment.SplitLines(wrapped).Index())
        {
            int spaces = isNarrow ? 0 : line == 0 ? first : others;
            if (spaces > 0) yield return new Segment(new string(' ', spaces));
            // A line that was broken still has the space at which it was.
            Segment[] kept = [.. segments.AsEnumerable().Reverse().SkipWhile(segment => string.IsNullOrWhiteSpace(segment.Text)).Reverse()];
            foreach (Segment segment in kept) yield return ReferenceEquals(segment, kept[^1]) ? Trimmed(segment) : segment;
            yield return Segment.LineBreak;
        }

        static Segment Trimmed(Segment segment) => new(segment.Text.TrimEnd(' '), segment.Style);
    }
}
