using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>A card that is planned, and what a person wants to know of it before it is burned.</summary>
/// <param name="Plan">The plan; it says how it is burned.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Hints">What to look at again.</param>
public sealed record PlannedCard(Plan Plan, BurnEstimate Estimate, ValueList<Advice> Hints)
{
    /// <summary>What whoever burns it must have read, one sentence each.</summary>
    public required ValueList<string> Cautions { get; init; }

    /// <summary>Why there is no machine file and no dry run; null where there are.</summary>
    public Refusal? WithoutMachineFile { get; init; }

    /// <summary>Scale at which an ordinary phone sees the card, px/mm.</summary>
    public double PhotoPxPerMm => CardPlanner.PhotoPxPerMm(Plan.Card);

    /// <summary>The card as it will burn, as an SVG text that fits any width.</summary>
    public string Drawing => CardPlanner.DrawPreview(Plan);

    /// <summary>Grid, size, and how well a phone sees it; of a card in a paper mask the piece that is burned, and the mask.</summary>
    public Phrase Size
    {
        get
        {
            Window? piece = Plan.Frame?.Window;
            return new("terminal.plan-size", Known(
                ("columns", Plan.Columns.Values.Count), ("rows", Plan.Rows.Values.Count),
                ("width", Mm(piece?.WidthMm ?? Plan.Card.WidthMm)), ("height", Mm(piece?.HeightMm ?? Plan.Card.HeightMm)),
                ("mask-width", piece is null ? null : Mm(Plan.Card.WidthMm)),
                ("mask-height", piece is null ? null : Mm(Plan.Card.HeightMm)),
                ("scale", In(Unit.PxPerMm, Math.Round(PhotoPxPerMm)))));
        }
    }

    /// <summary>Time and energy, and the cell to watch.</summary>
    public Phrase Burning
    {
        get
        {
            CellEstimate most = Estimate.MostEnergy;
            return new("terminal.plan-burning",
                ("time", Estimate.Time), ("stops", Estimate.HandStops), ("energy", In(Unit.Joules, Estimate.Joules)),
                ("row", most.Row + 1), ("column", most.Column + 1),
                ("cell-time", BurnEstimate.TimeOf(most.Seconds)), ("cell-energy", In(Unit.Joules, most.Joules)));
        }
    }

    /// <summary>The values of columns and rows.</summary>
    public Phrase Axes => new("terminal.plan-axes",
        ("column-name", NameOf(Plan.Columns)), ("columns", ValuesOf(Plan.Columns)),
        ("row-name", NameOf(Plan.Rows)), ("rows", ValuesOf(Plan.Rows)));

    /// <summary>What power and speed were chosen around, and how well that is known; null where they were asked for.</summary>
    public Phrase? Start => Plan.Start is not { } start ? null : new("terminal.plan-start", Known(
        ("energy", In(Plan.Process == Process.Cut ? Unit.JPerMm : Unit.JPerMm2, Rounding.TwoFigures(start.Energy))),
        ("basis", EnumName.Of(start.Basis)), ("source", start.Source),
        ("kind", start.Kind is { } kind ? new Phrase($"kind.{kind}") : null),
        ("factor", In(Unit.None, start.Factor))));

    /// <summary>A plan with what is to be told of it.</summary>
    /// <param name="plan">A plan that says how it is burned.</param>
    /// <param name="isByBurnedCard">As <see cref="CardRequest.IsByBurnedCard"/>.</param>
    /// <param name="withoutMachineFile">Why there is no machine file.</param>
    internal static PlannedCard Of(Plan plan, bool isByBurnedCard, Refusal? withoutMachineFile) =>
        new(plan, CardPlanner.Estimate(plan), CardPlanner.HintsFor(plan, isByBurnedCard))
        {
            Cautions = Planning.Cautions.For(plan.Machine), WithoutMachineFile = withoutMachineFile,
        };

    private static Phrase NameOf(Axis axis) => new("page.setting.head", ("setting", $"{axis.Setting}"));

    private static Listing ValuesOf(Axis axis) => List(axis.Values.Select(value => (Figure)SettingNumber.Of(axis.Setting, value)));
}
