using CardScan.Language;
using CardScan.Model;
using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Engraving;

/// <summary>One burned cell as the scoring sees it.</summary>
/// <param name="Card">Index of its card: 0 the reading's own, then the earlier ones.</param>
/// <param name="Address">Place in that card's grid.</param>
/// <param name="Settings">What it was burned with.</param>
/// <param name="LnDose">ln of the areal energy, J/mm².</param>
/// <param name="LnSpeed">ln of the speed over the card's middle speed.</param>
/// <param name="FocusLevel">Index of its focus offset among those of the card, from 0.</param>
/// <param name="Name">Its settings for a message, with all that changes over the card.</param>
internal sealed record BurnedCell(int Card, CellAddress Address, CellSettings Settings, double LnDose, double LnSpeed,
    int FocusLevel, Figure Name)
{
    /// <summary>True for cells beside each other, corner to corner included, on one card.</summary>
    public bool IsBeside(BurnedCell other) =>
        this != other && Card == other.Card && Math.Abs(Address.Row - other.Address.Row) <= 1
        && Math.Abs(Address.Column - other.Address.Column) <= 1;

    /// <summary>True where the other cell has at least as much of all that makes a mark: energy at equal speed, and time.</summary>
    public bool HasNoMoreThan(BurnedCell other) =>
        this != other && LnDose + LnSpeed <= other.LnDose + other.LnSpeed + 1e-9 && LnSpeed >= other.LnSpeed - 1e-9;
}

/// <summary>A burned cell with a usable measurement.</summary>
/// <param name="Cell">The cell.</param>
/// <param name="Strength">
/// Mark strength; negative where the cell went the other way than the card (a light cell on a card of dark marks).
/// </param>
/// <param name="DarknessError">Stated standard error of the darkness, zero where none is stated.</param>
/// <param name="IsLighter">True where the card's marks are lighter than the bare material.</param>
/// <param name="HaloMm">Halo, mm; null where not measured.</param>
internal sealed record MarkedCell(BurnedCell Cell, double Strength, double DarknessError, bool IsLighter, double? HaloMm)
{
    /// <summary>Stated standard error of the strength.</summary>
    public double StandardError => ErrorAt(Strength);

    /// <summary>What the card's chance is counted in: the lighter of cell and bare, over bare; at least 1.</summary>
    public double ChanceScale => ChanceScaleAt(Strength);

    /// <summary>
    /// Standard error the strength would have at an expected strength. A fit weighs by what it expects: weighing by what
    /// was measured would favour cells that came out dark by chance.
    /// </summary>
    public double ErrorAt(double strength) => Math.Log(10) * Ratio(strength) * DarknessError;

    /// <summary><see cref="ChanceScale"/> at an expected strength.</summary>
    public double ChanceScaleAt(double strength) => Math.Max(1, Ratio(strength));

    private double Ratio(double strength) => Math.Max(IsLighter ? 1 + strength : 1 - strength, 0.01);
}

/// <summary>The burned cells of an engraved card, and those of them that can be used.</summary>
/// <param name="Burned">All cells whose settings make a dose: the used ones first, in the order of <paramref name="Marked"/>.</param>
/// <param name="Marked">The used cells.</param>
/// <param name="IsLighter">True where burning makes this material lighter.</param>
/// <param name="MiddleSpeedMmPerMin">Geometric mean of the speeds, mm/min.</param>
/// <param name="FocusOffsetsMm">The card's focus offsets, mm.</param>
internal sealed record EngravedCard(
    ValueList<BurnedCell> Burned, ValueList<MarkedCell> Marked, bool IsLighter, double MiddleSpeedMmPerMin,
    ValueList<double> FocusOffsetsMm)
{
    /// <summary>The reading itself, then those of the earlier cards that are scored with it.</summary>
    public ValueList<Reading> Readings { get; private init; } = [];

    /// <summary>What was measured of a burned cell.</summary>
    public CellReading ReadingOf(BurnedCell cell) =>
        Readings[cell.Card].Cells.First(each => each.Row == cell.Address.Row && each.Column == cell.Address.Column);

    /// <summary>
    /// A darkness beyond this is a measuring fault, not a mark: a millionth or a million times the bare material's light.
    /// </summary>
    private const double DarknessLimit = 6;

    /// <summary>A mark that is seen as one beside bare material: about 5 % of its light.</summary>
    private const double ClearDarkness = 0.02;

    /// <summary>True where speed varies at equal energy, or energy at equal speed, so that the two can be told apart.</summary>
    public bool TellsSpeedFromEnergy
    {
        get
        {
            if (Marked.Count < 3) return false;
            double[] speed = [.. Marked.Select(cell => cell.Cell.LnSpeed)], dose = [.. Marked.Select(cell => cell.Cell.LnDose)];
            return speed.PopulationStandardDeviation() > 0.01 && dose.PopulationStandardDeviation() > 0.01
                && Math.Abs(Correlation.Pearson(speed, dose)) < 0.9999;
        }
    }

    /// <summary>The cells of one card, or of several that are scored together.</summary>
    /// <param name="readings">The reading itself, then those of earlier cards.</param>
    public static EngravedCard Of(params ReadOnlySpan<Reading> readings)
    {
        List<(CellReading Reading, Plan Plan, int Card)> burned = [];
        for (int card = 0; card < readings.Length; card++)
        {
            Plan plan = readings[card].Plan;
            foreach (CellReading cell in readings[card].Cells)
                if (LnDoseOf(cell, plan) is not null) burned.Add((cell, plan, card));
        }

        if (burned.Count == 0) return new([], [], false, 1, []);

        double middle = Math.Exp(burned.Average(cell => Math.Log(cell.Reading.Settings.SpeedMmPerMin)));
        List<double> focus = [.. burned.Select(cell => cell.Reading.Settings.FocusOffsetMm).Distinct().Order()];
        List<(CellReading Reading, BurnedCell Cell)> all = [.. burned
            .Select(cell => (cell.Reading, new BurnedCell(
                cell.Card, new(cell.Reading.Row, cell.Reading.Column), cell.Reading.Settings, LnDoseOf(cell.Reading, cell.Plan)!.Value,
                Math.Log(cell.Reading.Settings.SpeedMmPerMin / middle), focus.IndexOf(cell.Reading.Settings.FocusOffsetMm),
                NameOf(cell.Reading.Settings, cell.Plan, cell.Card))))
            .OrderByDescending(pair => IsUsable(pair.Reading))];

        List<CellReading> usable = [.. burned.Select(cell => cell.Reading).Where(IsUsable)];
        bool isLighter = AreLighter(usable);
        return new(
            all.Select(pair => pair.Cell).ToValueList(),
            all.Where(pair => IsUsable(pair.Reading)).Select(pair => Marked(pair.Cell, pair.Reading, isLighter)).ToValueList(),
            isLighter, middle, focus.ToValueList())
        { Readings = [.. readings] };

        static Figure NameOf(CellSettings settings, Plan plan, int card) =>
            card == 0 ? settings.ToFigure(plan) : new Phrase("name.on-card", ("setting", settings.ToFigure(plan)), ("card", plan.Number));

        static MarkedCell Marked(BurnedCell cell, CellReading reading, bool isLighter)
        {
            double ratio = Math.Pow(10, -reading.Darkness!.Value);
            return new(cell, isLighter ? ratio - 1 : 1 - ratio, Math.Abs(reading.Darkness.StandardError), isLighter, reading.HaloMm?.Value);
        }
    }

    /// <summary>
    /// The card's direction is that of most of its clear marks: noise about bare material has no vote, and one spoiled cell
    /// has only one. Where no mark is clear, squares let the strongest decide.
    /// </summary>
    private static bool AreLighter(List<CellReading> usable)
    {
        double[] clear = [.. usable.Select(cell => cell.Darkness!)
            .Where(d => Math.Abs(d.Value) > Math.Max(3 * d.StandardError, ClearDarkness)).Select(d => d.Value)];
        return clear.Length > 0
            ? clear.Count(d => d < 0) > clear.Length / 2
            : usable.Sum(cell => cell.Darkness!.Value * Math.Abs(cell.Darkness.Value)) < 0;
    }

    /// <summary>The same card without some of its used cells; their settings stay burned.</summary>
    public EngravedCard Without(IReadOnlyCollection<MarkedCell> left)
    {
        HashSet<BurnedCell> leftOut = [.. left.Select(cell => cell.Cell)];
        List<MarkedCell> kept = [.. Marked.Where(cell => !leftOut.Contains(cell.Cell))];
        HashSet<BurnedCell> keptCells = [.. kept.Select(cell => cell.Cell)];
        return this with
        {
            Marked = kept.ToValueList(),
            Burned = [.. kept.Select(cell => cell.Cell), .. Burned.Where(cell => !keptCells.Contains(cell))],
        };
    }

    private static bool IsUsable(CellReading cell) =>
        cell.Darkness is { } darkness
        && Math.Abs(darkness.Value) < DarknessLimit
        && double.IsFinite(darkness.StandardError)
        && !cell.Flags.Any(CellFlag.IsDisqualifying);

    private static double? LnDoseOf(CellReading cell, Plan plan)
    {
        CellSettings settings = cell.Settings;
        if (!(settings.PowerPercent > 0 && settings.SpeedMmPerMin > 0 && settings.Passes > 0)) return null;
        // A fill without a line interval still has its line energy; only the unit of the axis is lost.
        double dose = (settings.DoseOf(Process.Engrave, plan.Machine.RatedOpticalWatts)
            ?? settings.DoseOf(Process.Cut, plan.Machine.RatedOpticalWatts)!).Value;
        return dose > 0 && double.IsFinite(dose) ? Math.Log(dose) : null;
    }
}
