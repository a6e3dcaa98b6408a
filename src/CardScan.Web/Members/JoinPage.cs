using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>What somebody with an invitation sees first.</summary>
internal static class JoinPage
{
    /// <param name="path">Its own address.</param>
    /// <param name="invitation">The invitation.</param>
    public static string Write(string path, Invitation invitation)
    {
        (string Name, Figure Value)[] values = Known(
            ("role", EnumName.Of(invitation.Role)), ("name", Figures.Text(invitation.Member?.Name))).ToArray();
        return Shell.Welcome(
            Voice.Say("web.join.title", values),
            Html.Paragraph(Html.Class("lead"), Voice.Say("web.join.what", values)),
            new XElement(
                "form", Html.Class("ask"), new XAttribute("method", "post"), new XAttribute("action", path),
                new XAttribute("data-post", ""), new XAttribute("data-into", "said"),
                invitation.Member is null ? Name() : null,
                new XElement("button", Html.Class("large first"), Voice.Say("web.join.do", values)),
                new XElement("div", new XAttribute("id", "said"), new XAttribute("role", "status"))));
    }

    private static XElement[] Name() =>
    [
        EntryParts.Field(Voice.Say("web.join.name"), EntryParts.Input(
            "text", "name", null, new XAttribute("autocomplete", "nickname"), new XAttribute("maxlength", Member.MostNameLetters))),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.join.name-hint")),
    ];
}
