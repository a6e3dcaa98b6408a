using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>JSON on standard output: docs/formats.md, "Output for programs".</summary>
internal static class JsonText
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>A list as text, ending in a line break.</summary>
    public static string Of(IEnumerable<JsonObject> items) => List(items).ToJsonString(Layout) + "\n";

    /// <summary>An object as text, ending in a line break.</summary>
    public static string Of(JsonObject item) => item.ToJsonString(Layout) + "\n";

    /// <summary>A list of objects.</summary>
    public static JsonArray List(IEnumerable<JsonObject> items) => new([.. items]);

    /// <summary>A list of texts.</summary>
    public static JsonArray List(IEnumerable<string> items) => new([.. items.Select(item => JsonValue.Create(item))]);

    /// <summary>A list of numbers.</summary>
    public static JsonArray List(IEnumerable<double> items) => new([.. items.Select(item => JsonValue.Create(item))]);

    /// <summary>A warning, a piece of advice, a note.</summary>
    public static JsonObject Of(Remark remark) => new() { ["code"] = remark.Code, ["message"] = remark.Message };

    /// <summary>A refusal that did not end the command.</summary>
    public static JsonObject Of(Refusal refusal) => new() { ["code"] = refusal.Code, ["message"] = refusal.ToString() };

    /// <summary>What is not known is absent, as in every file of CardScan.</summary>
    public static JsonObject Without(JsonObject item)
    {
        foreach (string name in item.Where(field => field.Value is null).Select(field => field.Key).ToArray()) item.Remove(name);
        return item;
    }
}
