using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using CardScan.Language;

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
        Outcome<Plan> plan = Read(utf8, Context.Plan, FileKind.Plan);
        if (plan.IsRefused) return plan.Refusal!;
        if (PlanRules.Check(plan.Value) is { } refusal) return refusal;
        return new PlanFile(plan.Value, Sha256(utf8));
    }

    /// <summary>Reads a reading and checks it, the plan inside included.</summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<Reading> ReadReading(ReadOnlySpan<byte> utf8)
    {
        Outcome<Reading> reading = Read(utf8, Context.Reading, FileKind.Reading);
        if (reading.IsRefused) return reading.Refusal!;
        return (PlanRules.Check(reading.Value.Plan, "$.plan") ?? ReadingRules.Check(reading.Value)) is { } refusal ? refusal : reading;
    }

    /// <summary>
    /// Reads a machine profile and checks it; a field it does not know is refused, since a misspelt limit would not limit.
    /// </summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<Machine> ReadMachine(ReadOnlySpan<byte> utf8)
    {
        Outcome<MachineProfile> profile = Read(utf8, Context.MachineProfile, FileKind.Machine);
        if (profile.IsRefused) return profile.Refusal!;
        MachineProfile found = profile.Value;
        FieldFault? fault = UnknownField("$", found) ?? UnknownField("$.machine", found.Machine)
            ?? UnknownField("$.machine.workArea", found.Machine.WorkArea) ?? UnknownField("$.machine.poweredZ", found.Machine.PoweredZ)
            ?? EmptyName("$.machine.name", found.Machine.Name)
            ?? MachineRules.Check(found.Machine).FirstOrDefault()?.Under("$.machine");
        return fault is null ? found.Machine : FileKind.Machine.Wrong(fault);
    }

    /// <summary>Reads a material profile and checks it; a field it does not know is refused.</summary>
    /// <param name="utf8">The file's bytes.</param>
    public static Outcome<Material> ReadMaterial(ReadOnlySpan<byte> utf8)
    {
        Outcome<MaterialProfile> profile = Read(utf8, Context.MaterialProfile, FileKind.Material);
        if (profile.IsRefused) return profile.Refusal!;
        MaterialProfile found = profile.Value;
        FieldFault? fault = UnknownField("$", found)
            ?? UnknownField("$.material", found.Material) ?? UnknownField("$.material.mark", found.Material.Mark)
            ?? EmptyName("$.material.name", found.Material.Name)
            ?? MaterialRules.Check(found.Material).FirstOrDefault()?.Under("$.material");
        return fault is null ? found.Material : FileKind.Material.Wrong(fault);
    }

    /// <summary>The machine as a profile, ending in a line break.</summary>
    public static string Write(Machine machine) =>
        JsonSerializer.Serialize(new MachineProfile(MachineProfile.CurrentFormat, machine), Context.MachineProfile) + "\n";

    /// <summary>The material as a profile, ending in a line break.</summary>
    public static string Write(Material material) =>
        JsonSerializer.Serialize(new MaterialProfile(MaterialProfile.CurrentFormat, material), Context.MaterialProfile) + "\n";

    /// <summary>The plan as text, ending in a line break.</summary>
    public static string Write(Plan plan) => Text(plan, Context.Plan);

    /// <summary>The reading as text, ending in a line break.</summary>
    public static string Write(Reading reading) => Text(reading, Context.Reading);

    /// <summary>The comparison as text, ending in a line break.</summary>
    public static string Write(Comparison comparison) => Text(comparison, Context.Comparison);

    /// <summary>Sentences in files are those that everybody gets, not those of somebody's choice of units.</summary>
    private static string Text<T>(T value, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type)
    {
        using IDisposable files = Voice.WriteFiles();
        return JsonSerializer.Serialize(value, type) + "\n";
    }

    /// <summary>SHA-256, lower-case hexadecimal.</summary>
    public static string Sha256(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private static FieldFault? UnknownField(string path, Extensible? found) =>
        found?.Unknown is { Count: > 0 } unknown ? new($"{path}.{Excerpt(unknown.Keys.First())}", "rule.unknown-field") : null;

    private static FieldFault? EmptyName(string path, string name) =>
        string.IsNullOrWhiteSpace(name) ? FieldFault.Empty(path, Expected.Kind("name")) : null;

    /// <summary>Enough of what stands in a file to find it there.</summary>
    internal static string Excerpt(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private static Outcome<T> Read<T>(ReadOnlySpan<byte> utf8, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type, FileKind kind)
    {
        if (utf8.StartsWith(Encoding.UTF8.Preamble)) utf8 = utf8[Encoding.UTF8.Preamble.Length..];
        try
        {
            using JsonDocument document = JsonDocument.Parse(utf8.ToArray());
            if (document.RootElement.ValueKind == JsonValueKind.Object
                && document.RootElement.TryGetProperty("format", out JsonElement found)
                && found.ValueKind == JsonValueKind.String && FileKind.Of(found.GetString()!) is { } other && other != kind)
                return Refusal.OfInput(kind.OtherKind, ("found", new Phrase("rule.file-kind", ("kind", other.Name))));
            if (JsonContract.FirstFault(document.RootElement, type, kind.Format) is { } fault) return kind.Wrong(fault);
            T value = document.Deserialize(type)!;
            return value is Reading reading ? (T)(object)WithUsualPasses(reading, document.RootElement) : value;
        }
        catch (JsonException e)
        {
            return kind.Unreadable(e is { LineNumber: long line, BytePositionInLine: long column }
                ? new("rule.not-json", ("line", Figures.In(Unit.None, line + 1)), ("column", Figures.In(Unit.None, column + 1)))
                : new("rule.not-json"));
        }
        catch (InvalidOperationException)
        {
            // The parser lets half of a surrogate pair (\ud800) pass, and throws only when the text is asked for.
            return kind.Unreadable(new("rule.not-unicode"));
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
                ? recommendation with
                {
                    EarlierCell = WithUsualPasses(cell, root.GetProperty("recommendations")[i].GetProperty("earlierCell")),
                }
                : recommendation).Select(WithReasonsAlone).ToValueList(),
        };
    }

    /// <summary>Where the sentences stand one by one, their text is made of them.</summary>
    private static Recommendation WithReasonsAlone(Recommendation recommendation) => recommendation with
    {
        Reason = recommendation.Reasons.Count > 0 ? "" : recommendation.Reason,
        Unburned = recommendation.Unburned is { Reasons.Count: > 0 } unburned ? unburned with { Reason = "" } : recommendation.Unburned,
    };

    private static CellReading WithUsualPasses(CellReading cell, JsonElement json) =>
        json.GetProperty("settings").TryGetProperty("passes", out _) ? cell : cell with { Settings = cell.Settings with { Passes = 1 } };
}

/// <summary>A kind of file, and the codes of what may be wrong with one.</summary>
internal sealed record FileKind(string Name, string Format, string NotJson, string OtherKind, string Field)
{
    public static FileKind Plan { get; } = new("plan", Model.Plan.CurrentFormat, Codes.PlanNotJson, Codes.PlanOtherKind, Codes.PlanField);

    public static FileKind Reading { get; } =
        new("reading", Model.Reading.CurrentFormat, Codes.ReadingNotJson, Codes.ReadingOtherKind, Codes.ReadingField);

    public static FileKind Machine { get; } =
        new("machine", MachineProfile.CurrentFormat, Codes.MachineNotJson, Codes.MachineOtherKind, Codes.MachineField);

    public static FileKind Material { get; } =
        new("material", MaterialProfile.CurrentFormat, Codes.MaterialNotJson, Codes.MaterialOtherKind, Codes.MaterialField);

    /// <summary>The kind of a format; null where it is none of these.</summary>
    public static FileKind? Of(string format) => new[] { Plan, Reading, Machine, Material }.FirstOrDefault(kind => kind.Format == format);

    /// <summary>The refusal of a file with a wrong field.</summary>
    public Refusal Wrong(FieldFault fault) => Refusal.OfInput(Field, ("fault", fault.ToFigure()), ("format", Format));

    /// <summary>The refusal of a file that is no JSON.</summary>
    public Refusal Unreadable(Phrase why) => Refusal.OfInput(NotJson, ("why", why));
}

/// <summary>The serialiser's contracts, generated at build time so that start-up needs no reflection.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    WriteIndented = true,
    RespectNullableAnnotations = true,
    Converters = [
        typeof(ValueListConverter<ComparedBatch>), typeof(ValueListConverter<ComparedPair>),
        typeof(ValueListConverter<CellDifference>), typeof(ValueListConverter<ComparedCurve>),
        typeof(ValueListConverter<ChartPoint>), typeof(ValueListConverter<ControlPoint>), typeof(ValueListConverter<int>),
        typeof(ValueListConverter<BurnedLine>), typeof(ValueListConverter<Tab>), typeof(ValueListConverter<GreyStep>),
        typeof(ValueListConverter<Ruler>), typeof(ValueListConverter<double>), typeof(ValueListConverter<string>),
        typeof(ValueListConverter<Marker>), typeof(ValueListConverter<Cell>), typeof(ValueListConverter<CellReading>),
        typeof(ValueListConverter<PhotoRecord>), typeof(ValueListConverter<Warning>), typeof(ValueListConverter<Recommendation>),
        typeof(ValueListConverter<Reason>), typeof(ValueListConverter<JoinedCard>), typeof(ValueListConverter<Advice>),
        typeof(ValueListConverter<BoundaryPoint>), typeof(ValueListConverter<ToneStep>), typeof(ValueListConverter<CurveCell>),
        typeof(ValueListConverter<CurvePoint>), typeof(ValueListConverter<FocusCurve>),
        typeof(ValueMapConverter<Figure>), typeof(ValueMapConverter<double>), typeof(ValueMapConverter<Measured>),
        typeof(LowerCamelEnum<Process>), typeof(LowerCamelEnum<Setting>), typeof(LowerCamelEnum<Light>),
        typeof(LowerCamelEnum<SideState>), typeof(LowerCamelEnum<Opening>),
        typeof(LowerCamelEnum<PairVerdict>), typeof(LowerCamelEnum<CardKind>), typeof(LowerCamelEnum<BeamMode>),
        typeof(LowerCamelEnum<StartBasis>), typeof(LowerCamelEnum<AirSwitch>), typeof(LowerCamelEnum<AnswerSource>),
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
[JsonSerializable(typeof(Reason[]))]
[JsonSerializable(typeof(Figure))]
[JsonSerializable(typeof(OrderedDictionary<string, Figure>))]
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

/// <summary>A list of values as JSON's list; one for each kind of value, named above, since none can be made at run time.</summary>
internal sealed class ValueListConverter<T> : JsonConverter<ValueList<T>>
{
    public override ValueList<T> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        ValueList.Create<T>((T[]?)JsonSerializer.Deserialize(ref reader, options.GetTypeInfo(typeof(T[]))));

    public override void Write(Utf8JsonWriter writer, ValueList<T> value, JsonSerializerOptions options) =>
        JsonSerializer.Serialize(writer, value.ToArray(), options.GetTypeInfo(typeof(T[])));
}

/// <summary>Named values as JSON's object; likewise.</summary>
internal sealed class ValueMapConverter<T> : JsonConverter<ValueMap<T>>
{
    public override ValueMap<T> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        new((IEnumerable<KeyValuePair<string, T>>)JsonSerializer.Deserialize(
            ref reader, options.GetTypeInfo(typeof(OrderedDictionary<string, T>)))!);

    public override void Write(Utf8JsonWriter writer, ValueMap<T> value, JsonSerializerOptions options) =>
        JsonSerializer.Serialize(writer, new OrderedDictionary<string, T>(value),
            options.GetTypeInfo(typeof(OrderedDictionary<string, T>)));
}
