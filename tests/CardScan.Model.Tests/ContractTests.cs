using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace CardScan.Model.Tests;

/// <summary>The serialiser's contracts, which nothing completes at run time.</summary>
public class ContractTests
{
    [Fact]
    public void Every_list_and_map_of_a_file_has_its_converter_and_the_contract_of_what_it_holds()
    {
        JsonSerializerOptions options = CardJsonContext.Default.Options;
        HashSet<Type> seen = [];
        Queue<Type> waiting = new(
            [typeof(Plan), typeof(Reading), typeof(MachineProfile), typeof(MaterialProfile), typeof(Comparison)]);
        while (waiting.TryDequeue(out Type? type))
        {
            if (!seen.Add(type)) continue;
            Type? kind = type.IsGenericType ? type.GetGenericTypeDefinition() : null;
            if (kind == typeof(ValueList<>) || kind == typeof(ValueMap<>))
            {
                Type held = type.GenericTypeArguments[0];
                Type converter = kind == typeof(ValueList<>) ? typeof(ValueListConverter<>) : typeof(ValueMapConverter<>);
                Assert.Equal(converter.MakeGenericType(held), options.GetConverter(type).GetType());
                Type carrier = kind == typeof(ValueList<>)
                    ? held.MakeArrayType() : typeof(OrderedDictionary<,>).MakeGenericType(typeof(string), held);
                Assert.True(options.TryGetTypeInfo(carrier, out _), $"no contract of {carrier}");
                waiting.Enqueue(held);
                continue;
            }

            Assert.True(options.TryGetTypeInfo(type, out JsonTypeInfo? contract), $"no contract of {type}");
            foreach (JsonPropertyInfo field in contract.Properties.Where(field => !field.IsExtensionData))
                waiting.Enqueue(Nullable.GetUnderlyingType(field.PropertyType) ?? field.PropertyType);
        }

        // Empty contracts would hide every list.
        Assert.Contains(typeof(ValueList<CellReading>), seen);
        Assert.Contains(typeof(ValueMap<Measured>), seen);
    }
}
