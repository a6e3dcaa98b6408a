using System.Security.Cryptography;
using System.Text;
using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>What every page has around its sections: the one style sheet, and the policy that nothing else runs or loads.</summary>
internal static class PageShell
{
    /// <summary>The text of the page.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="main">What it holds.</param>
    /// <param name="footer">Its foot.</param>
    /// <param name="generator">A name by which a file is known again; null where none is.</param>
    public static string Write(string title, XElement main, XElement footer, string? generator = null) => Markup.Write(new(
        "html",
        new XAttribute("lang", Voice.Language),
        Head(title, generator),
        new XElement("body", main, footer)));

    /// <summary>True for the bytes of a page that was written with that name.</summary>
    public static bool IsBy(string generator, ReadOnlySpan<byte> file)
    {
        int style = file.IndexOf("<style"u8);
        return style > 0 && file.StartsWith("<!DOCTYPE html>"u8)
            && file[..style].IndexOf(Encoding.UTF8.GetBytes(Generator(generator).ToString(SaveOptions.DisableFormatting))) > 0;
    }

    private static XElement Generator(string name) =>
        new("meta", new XAttribute("name", "generator"), new XAttribute("content", name));

    private static XElement Head(string title, string? generator)
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
            generator is null ? null : Generator(generator),
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
