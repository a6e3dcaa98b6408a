using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using CardScan.Language;

namespace CardScan.Workflow;

/// <summary>What a person chose once for every command; kept as <c>preferences.json</c> beside the profiles.</summary>
public sealed record Preferences
{
    internal const string FileName = "preferences.json";

    private const string Format = "cardscan-preferences/1";

    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Name of the machine that is planned for where none is given; null where none is chosen.</summary>
    public string? Machine { get; init; }

    /// <summary>Name of the material; likewise.</summary>
    public string? Material { get; init; }

    /// <summary>The unit in which speeds are told; null where none is chosen.</summary>
    public SpeedUnit? Speeds { get; init; }

    /// <summary>The words for the units of speed, as files and people write them.</summary>
    public static IReadOnlyList<string> SpeedWords { get; } = ["mm/min", "mm/s"];

    /// <summary>The unit of a word; null where it is none of them.</summary>
    public static SpeedUnit? SpeedsOf(string? word) => word switch
    {
        "mm/min" => SpeedUnit.MmPerMin,
        "mm/s" => SpeedUnit.MmPerS,
        _ => null,
    };

    /// <summary>The word of a unit.</summary>
    public static string WordOf(SpeedUnit unit) => SpeedWords[(int)unit];

    internal string Write()
    {
        JsonObject file = new() { ["format"] = Format };
        if (Machine is not null) file["machine"] = Machine;
        if (Material is not null) file["material"] = Material;
        if (Speeds is { } speeds) file["speedUnit"] = WordOf(speeds);
        return file.ToJsonString(Layout) + "\n";
    }

    /// <summary>Reads the file's text; null where it is not such a file: nothing in it is guessed.</summary>
    internal static Preferences? Read(byte[] utf8)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(utf8);
            if (document.RootElement.ValueKind != JsonValueKind.Object) return null;
            Preferences read = new();
            bool isOurs = false;
            foreach (JsonProperty field in document.RootElement.EnumerateObject())
            {
                if (field.Value.ValueKind != JsonValueKind.String || field.Value.GetString() is not { Length: > 0 } text) return null;
                switch (field.Name)
                {
                    case "format" when text == Format: isOurs = true; break;
                    case "machine": read = read with { Machine = text }; break;
                    case "material": read = read with { Material = text }; break;
                    case "speedUnit" when SpeedsOf(text) is { } unit: read = read with { Speeds = unit }; break;
                    default: return null;
                }
            }

            return isOurs ? read : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
