using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>Why something was not done, and what to do: the sentences of the command line.</summary>
internal static class RefusalPart
{
    public static XElement Write(Refusal refusal) => new(
        "div", Html.Class("refusal"), new XAttribute("role", "alert"),
        Html.Paragraph(new XElement("strong", refusal.Seen)), Html.Paragraph(refusal.Remedy),
        Html.Paragraph(Html.Class("code"), refusal.Code));
}
