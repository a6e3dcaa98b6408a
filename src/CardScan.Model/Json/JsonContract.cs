using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace CardScan.Model;

/// <summary>
/// Holds a JSON document against the serialiser's own contract, so that a fault can be told with its path, what was
/// found and what was expected; the serialiser's exceptions name neither.
/// </summary>
internal static class JsonContract
{
    /// <summary>The first fault in document order, or null.</summary>
    public static string? FirstFault(JsonElement root, JsonTypeInfo type, string format)
    {
        if (root.ValueKind != JsonValueKind.Object) return Expected("$", root, "an object");
        if (!root.TryGetProperty("format", out JsonElement found)) return $"$.format is missing: expected \"{format}\"";
        if (found.ValueKind != JsonValueKind.String || found.GetString() != format) return Expected("$.format", found, $"\"{format}\"");
        return FirstFault(root, type, "$", type.Options);
    }

    private static string? FirstFault(JsonElement found, JsonTypeInfo contract, string path, JsonSerializerOptions options)
    {
        Type type = Nullable.GetUnderlyingType(contract.Type) ?? contract.Type;
        if (type == typeof(double)) return IsFiniteNumber(found) ? null : Expected(path, found, "a number");
        if (type == typeof(int)) return found.ValueKind == JsonValueKind.Number && found.TryGetInt32(out _) ? null : Expected(path, found, "a whole number");
        if (type == typeof(bool)) return found.ValueKind is JsonValueKind.True or JsonValueKind.False ? null : Expected(path, found, "true or false");
        if (type == typeof(string)) return found.ValueKind == JsonValueKind.String ? null : Expected(path, found, "a text");
        if (type == typeof(DateTime)) return found.ValueKind == JsonValueKind.String && found.TryGetDateTime(out _) ? null : Expected(path, found, "a date and time (2026-03-14T10:20:30)");
        if (type.IsEnum) return EnumFault(found, type, path);
        if (type == typeof(PixelPoint)) return PointFault(found, path);
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ValueList<>))
            return ListFault(found, options.GetTypeInfo(type.GenericTypeArguments[0]), path, options);
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ValueMap<>))
            return MapFault(found, options.GetTypeInfo(type.GenericTypeArguments[0]), path, options);
        return ObjectFault(found, contract, path, options);
    }

    private static string? ObjectFault(JsonElement found, JsonTypeInfo contract, string path, JsonSerializerOptions options)
    {
        if (found.ValueKind != JsonValueKind.Object) return Expected(path, found, "an object");
        foreach (JsonPropertyInfo field in contract.Properties.Where(field => !field.IsExtensionData))
        {
            string place = $"{path}.{field.Name}";
            JsonTypeInfo fieldContract = options.GetTypeInfo(field.PropertyType);
            if (!found.TryGetProperty(field.Name, out JsonElement value))
            {
                if (IsRequired(field)) return $"{place} is missing: expected {Kind(field.PropertyType)}";
                continue;
            }

            if (value.ValueKind == JsonValueKind.Null && field.IsSetNullable) continue;
            if (FirstFault(value, fieldContract, place, options) is { } fault) return fault;
        }

        return null;
    }

    /// <summary>A parameter of a positional record is as required as a required property: its default would be an invented value.</summary>
    private static bool IsRequired(JsonPropertyInfo field) =>
        field.IsRequired || field.AssociatedParameter is { IsMemberInitializer: false, HasDefaultValue: false };

    private static string? ListFault(JsonElement found, JsonTypeInfo element, string path, JsonSerializerOptions options)
    {
        if (found.ValueKind != JsonValueKind.Array) return Expected(path, found, "a list");
        return found.EnumerateArray().Select((item, i) => FirstFault(item, element, $"{path}[{i}]", options)).FirstOrDefault(fault => fault is not null);
    }

    private static string? MapFault(JsonElement found, JsonTypeInfo element, string path, JsonSerializerOptions options)
    {
        if (found.ValueKind != JsonValueKind.Object) return Expected(path, found, "an object");
        return found.EnumerateObject().Select(item => FirstFault(item.Value, element, $"{path}.{item.Name}", options)).FirstOrDefault(fault => fault is not null);
    }

    private static string? EnumFault(JsonElement found, Type type, string path)
    {
        string[] names = [.. Enum.GetNames(type).Select(JsonNamingPolicy.CamelCase.ConvertName)];
        return found.ValueKind == JsonValueKind.String && names.Contains(found.GetString())
            ? null
            : Expected(path, found, "one of " + string.Join(", ", names.Select(name => $"\"{name}\"")));
    }

    private static string? PointFault(JsonElement found, string path) =>
        found.ValueKind == JsonValueKind.Array && found.GetArrayLength() == 2 && found.EnumerateArray().All(IsFiniteNumber)
            ? null
            : Expected(path, found, "[x, y]");

    private static bool IsFiniteNumber(JsonElement found) =>
        found.ValueKind == JsonValueKind.Number && found.TryGetDouble(out double value) && double.IsFinite(value);

    private static string Expected(string path, JsonElement found, string expected)
    {
        string text = found.GetRawText();
        return $"{path} is {(text.Length <= 40 ? text : text[..40] + "…")}: expected {expected}";
    }

    private static string Kind(Type type)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        return type == typeof(double) ? "a number"
            : type == typeof(int) ? "a whole number"
            : type == typeof(DateTime) ? "a date and time"
            : type == typeof(bool) ? "true or false"
            : type == typeof(string) || type.IsEnum ? "a text"
            : type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ValueList<>) ? "a list"
            : "an object";
    }
}
