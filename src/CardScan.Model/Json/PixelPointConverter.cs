using System.Text.Json;
using System.Text.Json.Serialization;

namespace CardScan.Model;

internal sealed class PixelPointConverter : JsonConverter<PixelPoint>
{
    public override PixelPoint Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        ValueList<double> xy = JsonSerializer.Deserialize(ref reader, CardJsonContext.Default.ValueListDouble) ?? [];
        return xy.Count == 2 ? new(xy[0], xy[1]) : throw new JsonException("expected [x, y]");
    }

    public override void Write(Utf8JsonWriter writer, PixelPoint value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(value.X);
        writer.WriteNumberValue(value.Y);
        writer.WriteEndArray();
    }
}
