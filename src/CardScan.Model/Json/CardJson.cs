using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace CardScan.Model;

/// <summary>
/// Reads and writes the file formats: <c>plan.json</c>, <c>reading.json</c>, profiles of machines and materials; and writes
/// <c>comparison.json</c> (docs/formats.md).
/// </summary>
/// <remarks>
/// Fields are written in the order of the records, so that two files can be compared line by line. Fields this version
/// does not know are kept. A file that breaks its format is refused with the path of the field, what stands there and
/// what was expected.
/// </remarks>
public static class CardJson
{
    // Files are UTF-8 and read by people: letters beyond ASCII stay letters.
    private static readonly CardJsonContext Context = new(new JsonSerializerOptions(CardJsonContext.Default.Options)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    /// <summary>Reads a plan and checks it.</summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<PlanFile> ReadPlan(ReadOnlySpan<byte> utf8)
    {
        Outcome<Plan> plan = Read(utf8, Context.Plan, "plan", Plan.CurrentFormat);
        if (plan.IsRefused) return plan.Refusal!;
        if (PlanRules.Check(plan.Value) is { } refusal) return refusal;
        return new PlanFile(plan.Value, Sha256(utf8));
    }

    /// <summary>Reads a reading and checks it, the plan inside included.</summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<Reading> ReadReading(ReadOnlySpan<byte> utf8)
    {
        Outcome<Reading> reading = Read(utf8, Context.Reading, "reading", Reading.CurrentFormat);
        if (reading.IsRefused) return reading.Refusal!;
        return (PlanRules.Check(reading.Value.Plan, "$.plan") ?? ReadingRules.Check(reading.Value)) is { } refusal ? refusal : reading;
    }

    /// <summary>Reads a machine profile and checks it; a field it does not know is refused, since a misspelt limit would not limit.</summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<Machine> ReadMachine(ReadOnlySpan<byte> utf8)
    {
        Outcome<MachineProfile> profile = Read(utf8, Context.MachineProfile, "machine", MachineProfile.CurrentFormat);
        if (profile.IsRefused) return profile.Refusal!;
        MachineProfile found = profile.Value;
        string? fault = UnknownField("$", found)
            ?? UnknownField("$.machine", found.Machine) ?? UnknownField("$.machine.workArea", found.Machine.WorkArea) ?? UnknownField("$.machine.poweredZ", found.Machine.PoweredZ)
            ?? EmptyName("$.machine.name", found.Machine.Name)
            ?? MachineRules.Faults(found.Machine).Select(text => $"$.machine.{text}").FirstOrDefault();
        return fault is null ? found.Machine : Refusal.OfInput("machine-field", fault, $"correct the field; docs/formats.md describes every field of {MachineProfile.CurrentFormat}");
    }

    /// <summary>Reads a material profile and checks it; a field it does not know is refused.</summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<Material> ReadMaterial(ReadOnlySpan<byte> utf8)
    {
        Outcome<MaterialProfile> profile = Read(utf8, Context.MaterialProfile, "material", MaterialProfile.CurrentFormat);
        if (profile.IsRefused) return profile.Refusal!;
        MaterialProfile found = profile.Value;
        string? fault = UnknownField("$", found)
            ?? UnknownField("$.material", found.Material) ?? UnknownField("$.material.mark", found.Material.Mark)
            ?? EmptyName("$.material.name", found.Material.Name)
            ?? MaterialRules.Faults(found.Material).Select(text => $"$.material.{text}").FirstOrDefault();
        return fault is null ? found.Material : Refusal.OfInput("material-field", fault, $"correct the field; docs/formats.md describes every field of {MaterialProfile.CurrentFormat}");
    }

    /// <summary>The machine as a profile, ending in a line break.</summary>
    public static string Write(Machine machine) => JsonSerializer.Serialize(new MachineProfile(MachineProfile.CurrentFormat, machine), Context.MachineProfile) + "\n";

    /// <summary>The material as a profile, ending in a line break.</summary>
    public static string Write(Material material) => JsonSerializer.Serialize(new MaterialProfile(MaterialProfile.CurrentFormat, material), Context.MaterialProfile) + "\n";

    /// <summary>The plan as text, ending in a line break.</summary>
    public static string Write(Plan plan) => JsonSerializer.Serialize(plan, Context.Plan) + "\n";

    /// <summary>The reading as text, ending in a line break.</summary>
    public static string Write(Reading reading) => JsonSerializer.Serialize(reading, Context.Reading) + "\n";

    /// <summary>The comparison as text, ending in a line break.</summary>
    public static string Write(Comparison comparison) => JsonSerializer.Serialize(comparison, Context.Comparison) + "\n";

    /// <summary>SHA-256, lower-case hexadecimal.</summary>
    public static string Sha256(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private static string? UnknownField(string path, Extensible? found) =>
        found?.Unknown is { Count: > 0 } unknown ? $"{path}.{Excerpt(unknown.Keys.First())} is not a field of a profile: expected only documented ones" : null;

    private static string? EmptyName(string path, string name) => string.IsNullOrWhiteSpace(name) ? $"{path} is empty: expected a name" : null;

    private static string Excerpt(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private static string? OtherKind(string found, string wanted) => found == wanted ? null : found switch
    {
        Plan.CurrentFormat => "plan",
        Reading.CurrentFormat => "reading",
        MachineProfile.CurrentFormat => "machine profile",
        MaterialProfile.CurrentFormat => "material profile",
        _ => null,
    };

    private static Outcome<T> Read<T>(
        ReadOnlySpan<byte> utf8, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type, string what, string format)
    {
        if (utf8.StartsWith(Encoding.UTF8.Preamble)) utf8 = utf8[Encoding.UTF8.Preamble.Length..];
        try
        {
            using JsonDocument document = JsonDocument.Parse(utf8.ToArray());
            if (document.RootElement.ValueKind == JsonValueKind.Object && document.RootElement.TryGetProperty("format", out JsonElement found)
                && found.ValueKind == JsonValueKind.String && OtherKind(found.GetString()!, format) is { } other)
                return Refusal.OfInput($"{what}-other-kind", $"this is a {other}, not a {what}", what is "plan" or "reading" ? $"give the card's {what}.json" : $"give a profile of a {what}");
            if (JsonContract.FirstFault(document.RootElement, type, format) is { } fault)
                return Refusal.OfInput($"{what}-field", fault, $"correct the field; docs/formats.md describes every field of {format}");
            T value = document.Deserialize(type)!;
            return value is Reading reading ? (T)(object)WithUsualPasses(reading, document.RootElement) : value;
        }
        catch (JsonException e)
        {
            string place = e.LineNumber is long line ? $" at line {line + 1}, column {e.BytePositionInLine + 1}" : "";
            return Refusal.OfInput($"{what}-not-json", $"this is not a {what} file: the text stops being JSON{place}", "check that the right file was given");
        }
        catch (InvalidOperationException)
        {
            // The parser lets half of a surrogate pair (\ud800) pass, and throws only when the text is asked for.
            return Refusal.OfInput($"{what}-not-json", $"this is not a {what} file: a text in it is no Unicode", "check that the right file was given");
        }
    }

    /// <summary>Passes that are absent are one; the serialiser gives zero, which a file may not hold.</summary>
    private static Reading WithUsualPasses(Reading reading, JsonElement root)
    {
        JsonElement cells = root.GetProperty("cells");
        return reading with
        {
            Cells = reading.Cells.Select((cell, i) => WithUsualPasses(cell, cells[i])).ToValueList(),
            Recommendations = reading.Recommendations.Select((recommendation, i) => recommendation.EarlierCell is { } cell
                ? recommendation with { EarlierCell = WithUsualPasses(cell, root.GetProperty("recommendations")[i].GetProperty("earlierCell")) }
                : recommendation).ToValueList(),
        };
    }

    private static CellReading WithUsualPasses(CellReading cell, JsonElement json) =>
        json.GetProperty("settings").TryGetProperty("passes", out _) ? cell : cell with { Settings = cell.Settings with { Passes = 1 } };
}

/// <summary>The serialiser's contracts, generated at build time so that start-up needs no reflection.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    WriteIndented = true,
    RespectNullableAnnotations = true,
    Converters = [
        typeof(ValueListConverters), typeof(ValueMapConverters),
        typeof(LowerCamelEnum<Process>), typeof(LowerCamelEnum<Setting>), typeof(LowerCamelEnum<Light>),
        typeof(LowerCamelEnum<SideState>), typeof(LowerCamelEnum<Opening>),
        typeof(LowerCamelEnum<PairVerdict>), typeof(LowerCamelEnum<CardKind>), typeof(LowerCamelEnum<BeamMode>),
        typeof(LowerCamelEnum<CellSide>)])]
[JsonSerializable(typeof(Plan))]
[JsonSerializable(typeof(Reading))]
[JsonSerializable(typeof(MachineProfile))]
[JsonSerializable(typeof(MaterialProfile))]
[JsonSerializable(typeof(Comparison))]
[JsonSerializable(typeof(ComparedBatch[]))]
[JsonSerializable(typeof(ComparedPair[]))]
[JsonSerializable(typeof(CellDifference[]))]
[JsonSerializable(typeof(ComparedCurve[]))]
[JsonSerializable(typeof(ChartPoint[]))]
[JsonSerializable(typeof(ControlPoint[]))]
[JsonSerializable(typeof(ValueList<double>))]
[JsonSerializable(typeof(int[]))]
[JsonSerializable(typeof(BurnedLine[]))]
[JsonSerializable(typeof(Tab[]))]
[JsonSerializable(typeof(GreyStep[]))]
[JsonSerializable(typeof(Ruler[]))]
[JsonSerializable(typeof(double[]))]
[JsonSerializable(typeof(string[]))]
[JsonSerializable(typeof(Marker[]))]
[JsonSerializable(typeof(Cell[]))]
[JsonSerializable(typeof(CellReading[]))]
[JsonSerializable(typeof(PhotoRecord[]))]
[JsonSerializable(typeof(Warning[]))]
[JsonSerializable(typeof(Recommendation[]))]
[JsonSerializable(typeof(JoinedCard[]))]
[JsonSerializable(typeof(Advice[]))]
[JsonSerializable(typeof(BoundaryPoint[]))]
[JsonSerializable(typeof(ToneStep[]))]
[JsonSerializable(typeof(CurveCell[]))]
[JsonSerializable(typeof(CurvePoint[]))]
[JsonSerializable(typeof(FocusCurve[]))]
[JsonSerializable(typeof(OrderedDictionary<string, double>))]
[JsonSerializable(typeof(OrderedDictionary<string, Measured>))]
internal sealed partial class CardJsonContext : JsonSerializerContext;

internal sealed class LowerCamelEnum<T>() : JsonStringEnumConverter<T>(JsonNamingPolicy.CamelCase, allowIntegerValues: false)
    where T : struct, Enum;

internal sealed class ValueListConverters : JsonConverterFactory
{
    public override bool CanConvert(Type typeToConvert) =>
        typeToConvert.IsGenericType && typeToConvert.GetGenericTypeDefinition() == typeof(ValueList<>);

    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Converter<>).MakeGenericType(typeToConvert.GenericTypeArguments))!;

    private sealed class Converter<T> : JsonConverter<ValueList<T>>
    {
        public override ValueList<T> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ValueList.Create<T>((T[]?)JsonSerializer.Deserialize(ref reader, options.GetTypeInfo(typeof(T[]))));

        public override void Write(Utf8JsonWriter writer, ValueList<T> value, JsonSerializerOptions options) =>
            JsonSerializer.Serialize(writer, value.ToArray(), options.GetTypeInfo(typeof(T[])));
    }
}

internal sealed class ValueMapConverters : JsonConverterFactory
{
    public override bool CanConvert(Type typeToConvert) =>
        typeToConvert.IsGenericType && typeToConvert.GetGenericTypeDefinition() == typeof(ValueMap<>);

    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Converter<>).MakeGenericType(typeToConvert.GenericTypeArguments))!;

    private sealed class Converter<T> : JsonConverter<ValueMap<T>>
    {
        public override ValueMap<T> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            new((IEnumerable<KeyValuePair<string, T>>)JsonSerializer.Deserialize(ref reader, options.GetTypeInfo(typeof(OrderedDictionary<string, T>)))!);

        public override void Write(Utf8JsonWriter writer, ValueMap<T> value, JsonSerializerOptions options) =>
            JsonSerializer.Serialize(writer, new OrderedDictionary<string, T>(value), options.GetTypeInfo(typeof(OrderedDictionary<string, T>)));
    }
}
