using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Materials that must not be burned, by what their name says. A name that says nothing proves nothing.</summary>
/// <remarks>
/// Sources: PVC: Energy and Fuels 17 (2003) 896–900. PTFE: Am. Ind. Hyg. Assoc. J. 29 (1968) 33–40. Polycarbonate: Aerosol
/// Air Qual. Res. 16 (2016) 2216–2226. Chrome-tanned leather: Sustain. Chem. 5 (2024) 244–257 (evidence mixed, so not
/// allowed). Beryllium: 29 CFR 1910.1024. ABS, polyurethane, polyamide, composites, foams, polyethylene: lists of banned
/// materials of several universities. Magnesium and metal powders: NFPA 484, Standard for Combustible Metals (from memory). Acrylic
/// fibre is mostly acrylonitrile: ISO 2076 (from memory). The names and the other groups: docs/method/material-names.md.
/// </remarks>
internal static class MaterialDanger
{
    /// <summary>Groups that lists allow and warn of, or differ about.</summary>
    private static readonly HashSet<string> Cautions = ["zinc", "board", "treated-wood", "paint", "glue", "rubber", "pom", "synthetic"];

    /// <summary>Whether a group of names is dangerous, and not only doubtful.</summary>
    internal static bool IsDanger(string group) => !Cautions.Contains(group) && group != "harmless";

    /// <summary>
    /// Refuses a dangerous material unless its danger was repeated in words; refuses such words where there is no
    /// danger, so that they never become a habit.
    /// </summary>
    internal static Refusal? FirstFault(string material, string? accepted)
    {
        string[] dangers = [.. DangersOf(material).Select(Voice.Tell)];
        if (dangers.Length == 0) return accepted is null ? null : Refusal.OfInput(Codes.RiskUnknown, ("material", material));
        return AreRepeated(dangers, accepted ?? "")
            ? null
            : Refusal.OfInput(Codes.MaterialDangerous, ("material", material), ("dangers", List(dangers)));
    }

    /// <summary>
    /// What the name tells against burning the material: its dangers, then what to look up; empty where it tells of nothing.
    /// </summary>
    internal static IEnumerable<Advice> Against(string material)
    {
        if (DangersOf(material) is { Length: > 0 } dangers)
            yield return new(Codes.MaterialDanger, ("material", material), ("dangers", List(dangers)));
        Figure[] cautions = [.. HazardNames.GroupsOf(material).Where(Cautions.Contains).Select(group => new Phrase($"caution.{group}"))];
        if (cautions.Length > 0) yield return new(Codes.MaterialCaution, ("material", material), ("cautions", List(cautions)));
    }

    private static Figure[] DangersOf(string material) =>
        [.. HazardNames.GroupsOf(material).Where(IsDanger).Select(group => new Phrase($"danger.{group}"))];

    /// <summary>All dangers and nothing else: "no PVC gives off …" repeats none.</summary>
    private static bool AreRepeated(string[] dangers, string accepted)
    {
        HashSet<string> said =
            [.. accepted.Split([',', ';', '\n'], StringSplitOptions.RemoveEmptyEntries).Select(Plain).Where(part => part.Length > 0)];
        return said.SetEquals(dangers.Select(Plain));
    }

    private static string Plain(string text) => FoldedName.Of(text).Text;
}
