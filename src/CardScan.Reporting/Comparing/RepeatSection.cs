using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How well the measuring repeats itself.</summary>
internal static class RepeatSection
{
    public static XElement Write(Comparison comparison)
    {
        string title = Voice.Say("page.compare.repeats");
        return comparison.Repeatability is { } repeats
            ? Html.Section(
                "repeats", title,
                Html.Facts(Facts(repeats)),
                Html.Paragraph(Html.Class("meaning"), Voice.Say("page.compare.repeats-meaning")))
            : Html.Section("repeats", title, Html.Paragraph(Voice.Say("page.compare.repeats-none")));
    }

    private static IEnumerable<(string Name, string Value)> Facts(Repeatability repeats)
    {
        yield return (
            Voice.Say("page.compare.repeats-name"),
            Voice.Say("page.compare.repeats-value", ("readings", repeats.Readings), ("cells", repeats.Cells)));
        yield return (Voice.Say("page.compare.repeats-darkness"), Deviation(In(Unit.Statistic, repeats.WithinCellDeviation)));
        yield return (Voice.Say("page.compare.repeats-agreement"), Icc(repeats.AgreementIcc));
        yield return (Voice.Say("page.compare.repeats-single"), Icc(repeats.SingleIcc));
        if (repeats.LnRelativeDoseDeviation is { } deviation)
            yield return (Voice.Say("page.compare.repeats-energy"), Deviation(Share(deviation)));
    }

    private static string Deviation(Number deviation) => Voice.Say("page.compare.repeats-deviation", ("deviation", deviation));

    private static string Icc(Interval icc) => Voice.Tell(In(Unit.Statistic, icc.Value, icc.Low, icc.High));
}
