using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What a maker may want to look at again before burning.</summary>
internal static partial class BurnHints
{
    /// <summary>Light of one diode at most, W (common practice, no source).</summary>
    private const double LargestDiodeWatts = 8;

    /// <summary>More combined diodes than this are rare, so the number may well be the supply's (common practice, no source).</summary>
    private const int UsualDiodes = 3;

    /// <summary>Light between these wavelengths passes clear plastic and glass, nm.</summary>
    private const double ClearFromNm = 380, ClearToNm = 1600;

    internal static IEnumerable<Advice> Of(Plan plan) =>
        ((IEnumerable<Advice?>)[BurnTimeHint.Of(plan), Thickness(plan), Watts(plan.Machine), Leather(plan.Material), Transparent(plan), Mirror(plan.Material), LinesApart(plan), PhotoBudget.Hint(plan), RunUp(plan)]).OfType<Advice>();

    /// <summary>Looks like what the supply draws.</summary>
    internal static Advice? Watts(Machine machine)
    {
        bool mayBeDiode = machine.WavelengthNm is not { } nm || nm is > 380 and < 560;
        int diodes = (int)Math.Ceiling(machine.RatedOpticalWatts / LargestDiodeWatts);
        return !mayBeDiode || diodes <= UsualDiodes ? null : new("watts-like-supply",
            $"{machine.RatedOpticalWatts:0.###} W of light would take {diodes} diodes or more (one gives about 5 to 8 W): if the number is what the supply draws, give the optical watts instead");
    }

    /// <summary>The card would be burned in vain: found out when it is read is too late.</summary>
    private static Advice? Thickness(Plan plan) => plan is { Process: Process.Cut, Material.ThicknessMm: null }
        ? new("cut-thickness-untold", "the thickness is not given: reading the card will leave sides unseen that stay dark, and know no dose per millimetre: measure the board and plan with --thickness before you burn")
        : null;

    private static Advice? Leather(Material material) =>
        LeatherName().IsMatch(material.Name) && !VegetableName().IsMatch(material.Name)
            ? new("leather-tanning", $"\"{material.Name}\" does not say how it was tanned: burn vegetable-tanned leather only, chrome-tanned gives off chromium")
            : null;

    private static Advice? Transparent(Plan plan) => !ClearName().IsMatch(plan.Material.Name) ? null : plan.Machine.WavelengthNm switch
    {
        null => new("material-transparent", $"\"{plan.Material.Name}\" may let the light of a diode or fibre laser through: then it does not mark, and the beam burns what lies behind it"),
        >= ClearFromNm and <= ClearToNm and double nm => new("material-transparent", $"\"{plan.Material.Name}\" lets light of {nm:0.#} nm through: it may not mark, and the beam burns what lies behind it"),
        _ => null,
    };

    private static Advice? Mirror(Material material) => MirrorName().IsMatch(material.Name)
        ? new("material-mirror", $"\"{material.Name}\" can throw the beam back at the lens and into the room: ask the machine's manual whether bare reflective surfaces are allowed")
        : null;

    private static Advice? LinesApart(Plan plan)
    {
        double widest = plan.Cells.Max(cell => plan.SettingsOf(cell).LineIntervalMm ?? 0);
        return plan.Machine.BeamYMm is { } beam && widest > beam
            ? new("lines-apart", $"lines {widest:0.###} mm apart do not touch, since the beam is {beam:0.###} mm wide along y: bare stripes stay between them")
            : null;
    }

    private static Advice? RunUp(Plan plan)
    {
        if (plan.Burning is null) return null;
        BurnJob job = BurnJob.Of(plan);
        Piece? worst = job.Pieces.Where(piece => piece.Strokes.Any(stroke => IsShort(stroke, job.Machine.RunUpMm(piece.SpeedMmPerMin)))).MaxBy(piece => piece.SpeedMmPerMin);
        if (worst is null) return null;
        string needs = $"at {worst.SpeedMmPerMin:0.###} mm/min the machine needs {job.Machine.RunUpMm(worst.SpeedMmPerMin):0.#} mm to come up to speed";
        string unknown = plan.Machine.FastestFeedMmPerMin is null ? "neither its work area nor its fastest safe feed is known" : "its work area is not known";
        return plan.Machine.WorkArea is null
            ? new("run-up-unknown", $"{needs}, and {unknown}: make sure that it goes so fast and has that room beside the card, or the ends of lines get more dose")
            : new("run-up-short", $"{needs}, and the work area leaves less beside the card: the ends of lines get more dose");
    }

    private static bool IsShort(Stroke stroke, double runUpMm) =>
        (!stroke.Segments[0].IsOn && stroke.Start.DistanceTo(stroke.Segments[0].To) < runUpMm)
        || (!stroke.Segments[^1].IsOn && stroke.Segments[^2].To.DistanceTo(stroke.End) < runUpMm);

    [GeneratedRegex(@"\bleather\b", RegexOptions.IgnoreCase, 1000)]
    private static partial Regex LeatherName();

    [GeneratedRegex(@"\bveg(etable)?\b", RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex VegetableName();

    [GeneratedRegex(@"\b(clear|transparent|translucent|glass|quartz|crystal)\b", RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex ClearName();

    [GeneratedRegex(@"\b(mirror\w*|polished|chrome|chromed|copper|brass|bronze|gold|silver|alumini?um|steel|inox)\b", RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex MirrorName();
}
