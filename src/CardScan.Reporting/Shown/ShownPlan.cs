using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A plan in words.</summary>
internal static class ShownPlan
{
    /// <summary>"Card 17 · Birch, power by speed"; the number alone where the plan has no title.</summary>
    public static string Title(Plan plan) =>
        plan.Title.Length == 0 ? Number(plan) : Voice.Say("page.title", ("number", plan.Number), ("title", plan.Title));

    /// <summary>"Card 17".</summary>
    public static string Number(Plan plan) => Voice.Say("page.title", ("number", plan.Number));

    /// <summary>Material, batch, machine, process in one line.</summary>
    public static string Subtitle(Plan plan) => Voice.Say("page.subtitle",
    [
        ("material", Material(plan.Material)), ("machine", MachineOf(plan)), ("process", Process(plan)),
        .. plan.Material.Batch is { Length: > 0 } batch ? [("batch", batch)] : Array.Empty<(string, Figure)>(),
    ]);

    /// <summary>"Scored together with card 17 (36 cells, 2 Nov 2026)."; null where the card was scored alone.</summary>
    public static string? ScoredTogether(Reading reading) =>
        reading.Joined is { Count: > 0 } joined ? Voice.Say("page.together", ("cards", JoinedCard.ToFigure(joined))) : null;

    /// <summary>"birch plywood, 3 mm".</summary>
    public static string Material(Material material) => material.ThicknessMm is double mm
        ? Voice.Say("page.material", ("name", material.Name), ("thickness", Mm(mm)))
        : material.Name;

    /// <summary>How its cells were made: a branch of the sentences that tell it.</summary>
    public static string Process(Plan plan) => plan.IsPrinted ? "printed" : $"{plan.Process}";

    /// <summary>The machine that made it; a printer has no watts to be told.</summary>
    public static string MachineOf(Plan plan) => plan.IsPrinted ? plan.Machine.Name : Machine(plan.Machine);

    /// <summary>"bench diode, 10 W optical"; the watts once where the name holds them already.</summary>
    public static string Machine(Machine machine)
    {
        string kind = !machine.NamesItsWatts ? "watts"
            : machine.Name.Contains("optical", StringComparison.OrdinalIgnoreCase) ? "named" : "optical";
        return Voice.Say("page.machine", ("name", machine.Name), ("kind", kind), ("watts", In(Unit.Watts, machine.RatedOpticalWatts)));
    }
}
