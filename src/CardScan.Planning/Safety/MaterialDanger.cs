using System.Text.RegularExpressions;
using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Materials that must not be burned, by what their name says. A name that says nothing proves nothing.</summary>
/// <remarks>
/// Sources: PVC: Energy and Fuels 17 (2003) 896–900. PTFE: Am. Ind. Hyg. Assoc. J. 29 (1968) 33–40. Polycarbonate: Aerosol
/// Air Qual. Res. 16 (2016) 2216–2226. Chrome-tanned leather: Sustain. Chem. 5 (2024) 244–257 (evidence mixed, so not
/// allowed). Beryllium: 29 CFR 1910.1024. ABS, polyurethane, polyamide, composites, foams, polyethylene: lists of banned
/// materials of several universities.
/// </remarks>
/// <param name="Code">Code of the words that name the danger.</param>
/// <param name="Names">Names of such materials.</param>
internal sealed partial record MaterialDanger(string Code, Regex Names)
{
    private static readonly MaterialDanger[] Known =
    [
        new("planning.danger.pvc", Pvc()),
        new("planning.danger.ptfe", Fluoropolymer()),
        new("planning.danger.abs", Abs()),
        new("planning.danger.polyurethane", Polyurethane()),
        new("planning.danger.polyamide", Polyamide()),
        new("planning.danger.polycarbonate", Polycarbonate()),
        new("planning.danger.carbon-fibre", CarbonFibre()),
        new("planning.danger.glass-fibre", GlassFibre()),
        new("planning.danger.epoxy", Epoxy()),
        new("planning.danger.chrome-leather", ChromeLeather()),
        new("planning.danger.beryllium", Beryllium()),
        new("planning.danger.foam", Foam()),
    ];

    /// <summary>
    /// Refuses a dangerous material unless its danger was repeated in words; refuses such words where there is no danger, so that
    /// they never become a habit.
    /// </summary>
    internal static Refusal? FirstFault(string material, string? accepted)
    {
        MaterialDanger[] dangers = [.. Known.Where(danger => danger.Names.IsMatch(material))];
        if (dangers.Length == 0) return accepted is null ? null : Refusal.OfInput(Codes.RiskUnknown, ("material", material));
        string repeated = Plain(accepted ?? "");
        return dangers.All(danger => repeated.Contains(Plain(Voice.Say(danger.Code)), StringComparison.Ordinal))
            ? null
            : Refusal.OfInput(Codes.MaterialDangerous,
                ("material", material), ("dangers", List(dangers.Select(danger => new Phrase(danger.Code)))));
    }

    private static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();

    // "PVC-free" and "PVC free" name what is not there.
    private const string Free = @"(?![\s-]*free)";

    private const RegexOptions Reading = RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture;

    private const int PatienceMs = 1000;

    [GeneratedRegex(
        @"\b(u?pvc|(poly)?vinyl|polyvinyl chloride|(artificial|imitation|faux|synthetic) leather|leatherette|chlorinated)\b" + Free,
        Reading, PatienceMs)]
    private static partial Regex Pvc();

    [GeneratedRegex(@"\b(ptfe|fep|pfa|pvdf|teflon|fluoro\w*)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Fluoropolymer();

    [GeneratedRegex(@"\b(abs|acrylonitrile)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Abs();

    [GeneratedRegex(@"\b(polyurethane|pu|pur|tpu)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Polyurethane();

    [GeneratedRegex(@"\b(polyamide|nylon|aramid)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Polyamide();

    [GeneratedRegex(@"\bpoly-?carbonate\b" + Free, Reading, PatienceMs)]
    private static partial Regex Polycarbonate();

    [GeneratedRegex(@"\b(carbon[\s-]*fib(re|er)s?|cfrp|cfk)\b" + Free, Reading, PatienceMs)]
    private static partial Regex CarbonFibre();

    [GeneratedRegex(@"\b(glass[\s-]*fib(re|er)s?|fib(re|er)[\s-]*glass|gfrp|gfk|fr-?4)\b" + Free, Reading, PatienceMs)]
    private static partial Regex GlassFibre();

    [GeneratedRegex(@"\bepox(y|ide)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Epoxy();

    [GeneratedRegex(@"\bchrom(e|ium)[\s-]*(tanned|tan)\b|\bchrome leather\b", Reading, PatienceMs)]
    private static partial Regex ChromeLeather();

    [GeneratedRegex(@"\b(beryllium|beryllia|becu)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Beryllium();

    [GeneratedRegex(
        @"\b(styrofoam|(polystyrene|polypropylene|eps|xps|epp)([\s-]*foam)|eps|xps|epp|hdpe|polyethylene)\b" + Free, Reading, PatienceMs)]
    private static partial Regex Foam();
}
