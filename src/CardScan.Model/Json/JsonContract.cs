using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>
/// Holds a JSON document against the serialiser's own contract, so that a fault can be told with its path, what was
/// found and what was expected; the serialiser's exceptions name neither.
/// </summary>
internal static class JsonContract
{
    /// <summary>The first fault in document order, or null.</summary>
    public static FieldFault? FirstFault(JsonElement root, JsonTypeInfo type, string format)
    {
        if (root.ValueKind != JsonValueKind.Object) return Wrong("$", root, Expected.Kind("object"));
        if (!root.TryGetProperty("format", out JsonElement found)) return FieldFault.Missing("$.format", $"\"{format}\"");
        if (found.ValueKind != JsonValueKind.String || found.GetString() != format) return Wrong("$.format", found, $"\"{format}\"");
        return FirstFault(root, type, "$", type.Options);
    }

    private static FieldFault? FirstFault(JsonElement found, JsonTypeInfo contract, string path, JsonSerializerOptions options)
    {
        Type type = Nullable.GetUnderlyingType(contract.Type) ?? contract.Type;
        if (type == typeof(double)) return IsFiniteNumber(found) ? null : Wrong(path, found, Expected.Kind("number"));
        if (type == typeof(int))
            return found.ValueKind == JsonValueKind.Number && found.TryGetInt32(out _)
                ? null
                : Wrong(path, found, Expected.Kind("integer"));
        if (type == typeof(bool))
            return found.ValueKind is JsonValueKind.True or JsonValueKind.False ? null : Wrong(path, found, Expected.Kind("flag"));
        if (type == typeof(string)) return found.ValueKind == JsonValueKind.String ? null : Wrong(path, found, Expected.Kind("text"));
        if (type == typeof(DateTime))
            return found.ValueKind == JsonValueKind.String && found.TryGetDateTime(out _)
                ? null
                : Wrong(path, found, Expected.Kind("time"));
        if (type.IsEnum) return EnumFault(found, type, path);
        if (type == typeof(Figure)) return FigureFault(found, path);
        if (type == typeof(PixelPoint)) return PointFault(found, path);
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ValueList<>))
            return ListFault(found, options.GetTypeInfo(type.GenericTypeArguments[0]), path, options);
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ValueMap<>))
            return MapFault(found, options.GetTypeInfo(type.GenericTypeArguments[0]), path, options);
        return ObjectFault(found, contract, path, options);
    }

    private static FieldFault? ObjectFault(JsonElement found, JsonTypeInfo contract, string path, JsonSerializerOptions options)
    {
        if (found.ValueKind != JsonValueKind.Object) return Wrong(path, found, Expected.Kind("object"));
        foreach (JsonPropertyInfo field in contract.Properties.Where(field => !field.IsExtensionData))
        {
            string place = $"{path}.{field.Name}";
            JsonTypeInfo fieldContract = options.GetTypeInfo(field.PropertyType);
            if (!found.TryGetProperty(field.Name, out JsonElement value))
            {
                if (IsRequired(field)) return FieldFault.Missing(place, Expected.Kind(KindOf(field.PropertyType)));
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

    private static FieldFault? ListFault(JsonElement found, JsonTypeInfo element, string path, JsonSerializerOptions options)
    {
        if (found.ValueKind != JsonValueKind.Array) return Wrong(path, found, Expected.Kind("list"));
        return found.EnumerateArray().Select((item, i) => FirstFault(item, element, $"{path}[{i}]", options))
            .FirstOrDefault(fault => fault is not null);
    }

    private static FieldFault? MapFault(JsonElement found, JsonTypeInfo element, string path, JsonSerializerOptions options)
    {
        if (found.ValueKind != JsonValueKind.Object) return Wrong(path, found, Expected.Kind("object"));
        return found.EnumerateObject().Select(item => FirstFault(item.Value, element, $"{path}.{item.Name}", options))
            .FirstOrDefault(fault => fault is not null);
    }

    private static FieldFault? EnumFault(JsonElement found, Type type, string path)
    {
        string[] names = [.. Enum.GetNames(type).Select(EnumName.Of)];
        return found.ValueKind == JsonValueKind.String && names.Contains(found.GetString())
            ? null
            : Wrong(path, found, Expected.OneOf(names));
    }

    private static FieldFault? FigureFault(JsonElement found, string path) =>
        found.ValueKind is JsonValueKind.Number or JsonValueKind.String or JsonValueKind.Array or JsonValueKind.Object
            ? null
            : Wrong(path, found, Expected.Kind("figure"));

    private static FieldFault? PointFault(JsonElement found, string path) =>
        found.ValueKind == JsonValueKind.Array && found.GetArrayLength() == 2 && found.EnumerateArray().All(IsFiniteNumber)
            ? null
            : Wrong(path, found, Expected.Kind("point"));

    private static bool IsFiniteNumber(JsonElement found) =>
        found.ValueKind == JsonValueKind.Number && found.TryGetDouble(out double value) && double.IsFinite(value);

    private static FieldFault Wrong(string path, JsonElement found, Figure expected) =>
        FieldFault.Of(path, CardJson.Excerpt(found.GetRawText()), expected);

    private static string KindOf(Type type)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        return type == typeof(double) ? "number"
            : type == typeof(int) ? "integer"
            : type == typeof(DateTime) ? "time"
            : type == typeof(bool) ? "flag"
            : type == typeof(string) || type.IsEnum ? "text"
            : type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ValueList<>) ? "list"
            : "object";
    }
}
