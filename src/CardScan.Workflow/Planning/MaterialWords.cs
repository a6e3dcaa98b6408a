using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>What a material's name tells against burning it, said wherever a setting for it is offered.</summary>
public static class MaterialWords
{
    /// <summary>Its dangers, then what to look up; empty where the name tells of nothing, which proves nothing.</summary>
    /// <param name="materialName">The name.</param>
    public static ValueList<Advice> Of(string materialName) => CardPlanner.AgainstBurning(materialName);

    /// <summary>
    /// A reading with them first among its advice: one that was kept or carried here may be older than what is known now.
    /// </summary>
    internal static Reading BesideSettings(Reading reading)
    {
        ValueList<Advice> words = Of(reading.Plan.Material.Name);
        return reading with { Advice = [.. words, .. reading.Advice.Where(advice => !advice.IsAgainstBurning)] };
    }
}
