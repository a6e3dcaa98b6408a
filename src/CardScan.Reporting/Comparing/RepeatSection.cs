using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How well the measuring repeats itself.</summary>
internal static class RepeatSection
{
    public static XElement Write(Comparison comparison) => comparison.Repeatability is { } repeats
        ? Html.Section(
            "repeats", "Repeatability of the measuring",
            Html.Facts(Facts(repeats)),
            Html.Paragraph(Html.Class("meaning"), "No interval on this page is narrower than two readings of one card differ by themselves."))
        : Html.Section(
            "repeats", "Repeatability of the measuring",
            Html.Paragraph("No repeated photos of one card were given: the intervals rest on the readings' own errors and the cards' chance. What a change of light or tone between two photos does is not in them."));

    private static IEnumerable<(string Name, string Value)> Facts(Repeatability repeats)
    {
        yield return ("Repeats", $"{repeats.Readings} readings of one card, {repeats.Cells} cells");
        yield return ("Darkness of one cell", $"standard deviation {Numbers.Significant(repeats.WithinCellDeviation, 2)}");
        yield return ("ICC(2,1)", Icc(repeats.AgreementIcc));
        yield return ("ICC(1,1)", Icc(repeats.SingleIcc));
        if (repeats.LnRelativeDoseDeviation is { } deviation) yield return ("Relative dose", $"standard deviation {Numbers.Percent(deviation)}");
    }

    private static string Icc(Interval icc) => $"{Numbers.Fixed(icc.Value, 4)} ({Numbers.Fixed(icc.Low, 4)} to {Numbers.Fixed(icc.High, 4)})";
}
