using System.Globalization;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A plan in words.</summary>
internal static partial class PlanWords
{
    /// <summary>"Card 17 · Birch, power by speed"; the number alone where the plan has no title.</summary>
    public static string Title(Plan plan) => plan.Title.Length == 0 ? $"Card {plan.Number}" : $"Card {plan.Number} · {plan.Title}";

    /// <summary>Material, batch, machine, process in one line.</summary>
    public static string Subtitle(Plan plan) =>
        string.Join(" · ", new[] { Material(plan.Material), plan.Material.Batch is { Length: > 0 } batch ? $"batch {batch}" : "", Machine(plan.Machine), Process(plan.Process) }.Where(part => part.Length > 0));

    /// <summary>"Scored together with card 17 (36 cells, 2 Nov 2026)."; null where the card was scored alone.</summary>
    public static string? ScoredTogether(Reading reading) => reading.Joined is { Count: > 0 } joined ? $"Scored together with {JoinedCard.InWords(joined)}." : null;

    /// <summary>"birch plywood, 3 mm".</summary>
    public static string Material(Material material) =>
        material.ThicknessMm is double mm ? $"{material.Name}, {Numbers.Chosen(mm)}\u00a0mm" : material.Name;

    /// <summary>"bench diode, 10 W optical"; the watts once where the name holds them already.</summary>
    public static string Machine(Machine machine)
    {
        bool holdsWatts = Watts().Matches(machine.Name).Any(match =>
            double.TryParse(match.Groups["number"].ValueSpan, CultureInfo.InvariantCulture, out double watts) && watts == machine.RatedOpticalWatts);
        if (!holdsWatts) return $"{machine.Name}, {Numbers.Chosen(machine.RatedOpticalWatts)}\u00a0W optical";
        return machine.Name.Contains("optical", StringComparison.OrdinalIgnoreCase) ? machine.Name : $"{machine.Name} (optical)";
    }

    /// <summary>"engraved" or "cut".</summary>
    public static string Process(Process process) => process == Model.Process.Cut ? "cut" : "engraved";

    [GeneratedRegex(@"(?<![0-9.,])(?<number>[0-9]{1,6}(?:\.[0-9]{1,3})?)\s?W\b", RegexOptions.CultureInvariant, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Watts();
}
