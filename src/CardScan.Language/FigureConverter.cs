using System.Text.Json;
using System.Text.Json.Serialization;

namespace CardScan.Language;

/// <summary>
/// A value in a file: a number, a text, a list, or an object with <c>value</c> and <c>unit</c>, <c>speedMmPerMin</c>
/// and <c>powerPercent</c>, or <c>code</c> and <c>values</c>.
/// </summary>
public sealed class FigureConverter : JsonConverter<Figure>
{
    /// <inheritdoc/>
    public override Figure Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        using JsonDocument document = JsonDocument.ParseValue(ref reader);
        return Of(document.RootElement) ?? throw new JsonException("expected a value of a message");
    }

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, Figure value, JsonSerializerOptions options) => Write(writer, value);

    /// <summary>The value; null where it is none of this version's.</summary>
    internal static Figure? Of(JsonElement found) => found.ValueKind switch
    {
        JsonValueKind.Number => new Number(found.GetDouble(), Unit.None),
        JsonValueKind.String => new Word(found.GetString()!),
        JsonValueKind.Array =>
            found.EnumerateArray().Select(Of).ToArray() is var items && items.All(item => item is not null) ? new Listing(items!) : null,
        JsonValueKind.Object => OfObject(found),
        _ => null,
    };

    private static Figure? OfObject(JsonElement found)
    {
        if (Number(found, "speedMmPerMin") is { } speed && Number(found, "powerPercent") is { } power)
            return new SettingFigure(speed, power, (int)(Number(found, "passes") ?? 1), Number(found, "lineIntervalMm"),
                Number(found, "focusOffsetMm"));
        if (Number(found, "value") is { } value)
        {
            return found.TryGetProperty("unit", out JsonElement unit) && unit.ValueKind == JsonValueKind.String
                && Enum.TryParse(unit.GetString(), ignoreCase: true, out Unit known)
                ? new Number(value, known, Number(found, "low"), Number(found, "high"))
                : null;
        }

        if (!found.TryGetProperty("code", out JsonElement code) || code.ValueKind != JsonValueKind.String) return null;
        if (!found.TryGetProperty("values", out JsonElement values) || values.ValueKind != JsonValueKind.Object)
            return new Phrase(code.GetString()!);
        (string Name, Figure? Value)[] pairs = [.. values.EnumerateObject().Select(pair => (pair.Name, Of(pair.Value)))];
        return pairs.Any(pair => pair.Value is null) ? null : new Phrase(code.GetString()!, pairs!);
    }

    private static double? Number(JsonElement found, string name) =>
        found.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;

    private static void Write(Utf8JsonWriter writer, Figure figure)
    {
        switch (figure)
        {
            case Number { Unit: Unit.None, Low: null } plain: writer.WriteNumberValue(plain.Value); break;
            case Number number: WriteNumber(writer, number); break;
            case Word word: writer.WriteStringValue(word.Text); break;
            case OptionName option: writer.WriteStringValue(option.Text); break;
            case SettingFigure setting: WriteSetting(writer, setting); break;
            case Listing listing:
                writer.WriteStartArray();
                foreach (Figure item in listing.Items) Write(writer, item);
                writer.WriteEndArray();
                break;
            case Phrase phrase: WritePhrase(writer, phrase); break;
        }
    }

    private static void WriteNumber(Utf8JsonWriter writer, Number number)
    {
        writer.WriteStartObject();
        writer.WriteNumber("value", number.Value);
        writer.WriteString("unit", JsonNamingPolicy.CamelCase.ConvertName(number.Unit.ToString()));
        if (number.Low is { } low) writer.WriteNumber("low", low);
        if (number.High is { } high) writer.WriteNumber("high", high);
        writer.WriteEndObject();
    }

    private static void WriteSetting(Utf8JsonWriter writer, SettingFigure setting)
    {
        writer.WriteStartObject();
        writer.WriteNumber("speedMmPerMin", setting.SpeedMmPerMin);
        writer.WriteNumber("powerPercent", setting.PowerPercent);
        if (setting.Passes != 1) writer.WriteNumber("passes", setting.Passes);
        if (setting.LineIntervalMm is { } interval) writer.WriteNumber("lineIntervalMm", interval);
        if (setting.FocusOffsetMm is { } focus) writer.WriteNumber("focusOffsetMm", focus);
        writer.WriteEndObject();
    }

    private static void WritePhrase(Utf8JsonWriter writer, Phrase phrase)
    {
        writer.WriteStartObject();
        writer.WriteString("code", phrase.Code);
        if (phrase.Values.Count > 0)
        {
            writer.WriteStartObject("values");
            foreach ((string name, Figure value) in phrase.Values)
            {
                writer.WritePropertyName(name);
                Write(writer, value);
            }

            writer.WriteEndObject();
        }

        writer.WriteEndObject();
    }
}
