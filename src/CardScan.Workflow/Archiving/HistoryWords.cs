using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>What is said of how a machine changed.</summary>
public static class HistoryWords
{
    /// <summary>The machine with what it did: "bench diode, 10 W: engraving".</summary>
    public static Phrase HeadingFigure(this MachineHistory history)
    {
        ArgumentNullException.ThrowIfNull(history);
        return new("history.heading", ("machine", history.Machine.ToFigure()), ("process", EnumName.Of(history.Process)));
    }

    /// <summary>What the cards of today's stretch tell: a change, none, or how many more it takes.</summary>
    public static Phrase StateFigure(this MachineStretch stretch)
    {
        ArgumentNullException.ThrowIfNull(stretch);
        int outside = stretch.Rows.Count(row => row.Point is { IsOutside: true });
        return new("history.state",
            ("cards", stretch.Rows.Count), ("missing", stretch.Chart.Missing), ("outside", outside),
            ("least", NeedHistory.LeastCards), ("alone", stretch.Rows.Count(row => row.Point is null)));
    }

    /// <summary>What was done to the machine, and when.</summary>
    public static Phrase ToFigure(this MachineChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return new("history.change", ("day", Day(change.On)), ("what", change.What), ("name", change.Name));
    }

    /// <summary>The card with its material: "17 · birch plywood 3 mm · B-0412".</summary>
    public static Phrase CardFigure(this HistoryRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        Material material = row.Card.Material;
        return new("history.card", Known(("number", row.Card.Number), ("batch", Text(material.Batch)),
            ("material", CardEntry.MaterialFigure(material.Name, material.ThicknessMm))));
    }

    /// <summary>How much more or less energy a card needed, with its error.</summary>
    public static Number FactorOf(NeedPoint point)
    {
        ArgumentNullException.ThrowIfNull(point);
        double error = NormalQuantile.TwoSided95 * point.StandardError;
        return In(Unit.Factor, Math.Exp(point.Ln), Math.Exp(point.Ln - error), Math.Exp(point.Ln + error));
    }

    /// <summary>The change, what it may be, and the card that tells.</summary>
    public static Warning Warn(Machine machine, MachineDrift drift)
    {
        ArgumentNullException.ThrowIfNull(machine);
        ArgumentNullException.ThrowIfNull(drift);
        Interval energy = drift.Change.Energy;
        MachineCard first = drift.First.Card;
        return new(Codes.MachineDrift, Known(
            ("machine", machine.Name), ("factor", In(Unit.Factor, energy.Value, energy.Low, energy.High)),
            ("turn", energy.Value > 1 ? "more" : "less"), ("day", Day(drift.First.On)), ("card", first.Number),
            ("material", first.Material.Name), ("cause", drift.Cause),
            ("again", drift.Again?.Number), ("other", drift.Again?.Material.Name), ("batch", Text(drift.Again?.Material.Batch))));
    }

    /// <summary>A day as lists have it.</summary>
    public static string Day(DateTime time) => $"{time:yyyy-MM-dd}";
}
