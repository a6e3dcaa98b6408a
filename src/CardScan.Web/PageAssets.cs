using System.Security.Cryptography;
using System.Text;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>The one style sheet, the one script and the icon; their addresses hold their hashes, so that browsers may keep them.</summary>
internal static class PageAssets
{
    /// <summary>Where they stand.</summary>
    public const string Folder = "/look";

    /// <summary>The icon that browsers ask for by themselves.</summary>
    public const string Icon = "/favicon.ico";

    private static readonly (string Address, byte[] Bytes, string Type) StyleSheet =
        Made("css", CardReport.StyleSheet() + Text("page.css"), "text/css; charset=utf-8");

    private static readonly (string Address, byte[] Bytes, string Type) Script =
        Made("js", Text("page.js"), "text/javascript; charset=utf-8");

    private static readonly (string Address, byte[] Bytes, string Type) Drawing = Made("svg", PageIcon.Svg, "image/svg+xml");

    /// <summary>Address of the style sheet.</summary>
    public static string StyleAddress => StyleSheet.Address;

    /// <summary>Address of the script.</summary>
    public static string ScriptAddress => Script.Address;

    /// <summary>Address of the icon.</summary>
    public static string IconAddress => Drawing.Address;

    /// <summary>True for the address of one of them.</summary>
    public static bool IsOne(PathString path) =>
        path == Icon || path == StyleSheet.Address || path == Script.Address || path == Drawing.Address;

    /// <summary>Serves them.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        foreach ((string address, byte[] bytes, string type) in new[] { StyleSheet, Script, Drawing })
        {
            routes.MapGet(address, (HttpContext context) =>
            {
                context.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
                return Results.Bytes(bytes, type);
            });
        }

        routes.MapGet(Icon, () => Results.Bytes(Drawing.Bytes, Drawing.Type));
    }

    private static (string, byte[], string) Made(string ending, string text, string type)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        return ($"{Folder}/{Convert.ToHexStringLower(SHA256.HashData(bytes))[..16]}.{ending}", bytes, type);
    }

    private static string Text(string name)
    {
        using Stream file = typeof(PageAssets).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is missing from the assembly.");
        using StreamReader text = new(file);
        return text.ReadToEnd().ReplaceLineEndings("\n");
    }
}
