using System.Security.Cryptography;
using System.Text;
using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>What every page has around its sections: the one style sheet, and the policy that nothing else runs or loads.</summary>
internal static class PageShell
{
    /// <summary>The text of the page.</summary>
    public static string Write(string title, XElement main, XElement footer) => Markup.Write(new(
        "html",
        new XAttribute("lang", Voice.Language),
        Head(title),
        new XElement("body", main, footer)));

    private static XElement Head(string title)
    {
        string style = Style();
        // The one style sheet is named by its hash; nothing else runs, loads or styles.
        string hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)));
        string policy = $"default-src 'none'; img-src data:; style-src 'sha256-{hash}'; base-uri 'none'; form-action 'none'";
        return new(
            "head",
            new XElement("meta", new XAttribute("charset", "utf-8")),
            new XElement("meta", new XAttribute("http-equiv", "Content-Security-Policy"), new XAttribute("content", policy)),
            new XElement("meta", new XAttribute("name", "viewport"), new XAttribute("content", "width=device-width, initial-scale=1")),
            new XElement("meta", new XAttribute("name", "color-scheme"), new XAttribute("content", "light dark")),
            new XElement("title", title),
            new XElement("style", style));
    }

    internal static string Style()
    {
        using Stream file = typeof(PageShell).Assembly.GetManifestResourceStream("report.css")
            ?? throw new InvalidOperationException("The style sheet is missing from the assembly.");
        using StreamReader text = new(file);
        // HTML parsers turn CR LF into LF before they hash.
        return text.ReadToEnd().ReplaceLineEndings("\n");
    }
}
