using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>Parts of a page that are fetched again when what they show may have changed.</summary>
internal static class LivePart
{
    /// <summary>A part.</summary>
    /// <param name="from">Where the page fetches it.</param>
    /// <param name="topics">What it shows.</param>
    /// <param name="content">Its content as it stands now.</param>
    public static XElement Write(string from, Topic[] topics, params object?[] content) => new(
        "div", new XAttribute("data-live", string.Join(' ', topics).ToLowerInvariant()), new XAttribute("data-from", from),
        new XAttribute("aria-live", "polite"), content);

    /// <summary>What takes the place of its content.</summary>
    public static XElement Content(params object?[] content) => new("div", Html.Class("fresh"), content);
}
