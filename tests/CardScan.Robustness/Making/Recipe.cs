using CardScan.Calibration;
using CardScan.Model;
using CardScan.Vision.Tests.BackLight;

namespace CardScan.Robustness;

/// <summary>What one photo shows and how it was taken: everything follows from seed and number.</summary>
internal sealed class Recipe
{
    private readonly IReadOnlyDictionary<Factor, Drawn> _drawn;

    private Recipe(int seed, int number, Chance chance)
    {
        (Seed, Number) = (seed, number);
        _drawn = Factors.All.ToDictionary(factor => factor, factor => factor.Draw(chance));
        Truth = CardTruth.Draw(this, chance);
        View = PhotoView.Draw(this, chance);
    }

    public int Seed { get; }

    public int Number { get; }

    /// <summary>What is known of the card.</summary>
    public CardTruth Truth { get; }

    /// <summary>Where the phone was, and what lay in its way.</summary>
    public PhotoView View { get; }

    public bool IsCut => NameOf(Factors.Process).StartsWith("cut", StringComparison.Ordinal);

    public SurfaceKind Material => Materials.All.Single(material => material.Name == NameOf(Factors.Material));

    /// <summary>
    /// Whether the photo is one that CardScan says it can read: tilt, scale and sharpness (docs/method/photo-check.md). Light
    /// passes through a kerf at an angle of only a few degrees, so back-lit photos are to be taken straighter.
    /// </summary>
    public bool IsInRange => ValueOf(Factors.Tilt) <= (IsCut ? 10 : 35) && ValueOf(Factors.Scale) >= 8
        && ValueOf(Factors.Blur) / ValueOf(Factors.Scale) <= 0.03 * ValueOf(Factors.CellSize);

    /// <summary>
    /// Whether the exposure leaves bare material below the top of the photo's scale: where marks are lighter, or a lamp
    /// stands behind the card, it always does.
    /// </summary>
    public bool IsBareInScale => IsCut || Material.Marked > 1 || ValueOf(Factors.Exposure) < 1;

    /// <summary>The photo of a number.</summary>
    public static Recipe Of(int seed, int number) => new(seed, number, new Chance(unchecked(seed * 1_000_003 + number)));

    /// <summary>Name of a factor's level.</summary>
    public string NameOf(Factor factor) => _drawn[factor].Level.Name;

    /// <summary>Value of a factor.</summary>
    public double ValueOf(Factor factor) => _drawn[factor].Value;

    /// <summary>All that was drawn, in one line.</summary>
    public override string ToString() => string.Join(", ", Factors.All.Select(factor => Describe(_drawn[factor])));

    private static string Describe(Drawn drawn)
    {
        bool hasValue = drawn.Level.To != drawn.Level.From;
        return $"{drawn.Factor.Name} "
            + (hasValue
                ? $"{drawn.Value:0.###}{(char.IsLetter(drawn.Level.Name[0]) ? $" ({drawn.Level.Name})" : "")}"
                : drawn.Level.Name);
    }
}

/// <summary>A cell's mark.</summary>
/// <param name="Darkness">True darkness, with the chance of this one burn.</param>
/// <param name="Expected">
/// Share of the material's full mark that its setting gives without chance: what the next burn has on average.
/// </param>
internal sealed record TrueMark(double Darkness, double Expected);

/// <summary>What is known of a card.</summary>
/// <param name="Plan">The plan it was burned from.</param>
/// <param name="Marks">True marks of its cells, in the plan's order; empty for a cut card.</param>
/// <param name="Cuts">What the beam did to the cells of a cut card, in the plan's order; empty for an engraved one.</param>
/// <param name="ThicknessMm">Thickness, mm.</param>
internal sealed record CardTruth(PlanFile Plan, IReadOnlyList<TrueMark> Marks, IReadOnlyList<CutCell> Cuts, double ThicknessMm)
{
    /// <summary>True darkness of its cells, in the plan's order.</summary>
    public IReadOnlyList<double> Darkness { get; } = [.. Marks.Select(mark => mark.Darkness)];

    /// <summary>Draws a card: how much dose its material wants, and chance from cell to cell.</summary>
    public static CardTruth Draw(Recipe recipe, Chance chance)
    {
        int number = (int)(15 * chance.Uniform());
        double thicknessMm = 1 + 2.5 * chance.Uniform();
        PlanFile plan = TestCards.Of(recipe.IsCut ? Process.Cut : Process.Engrave, number, recipe.ValueOf(Factors.CellSize), thicknessMm);
        return recipe.IsCut
            ? new(plan, [], [.. CutsOf(plan.Plan, chance)], thicknessMm)
            : new(plan, [.. MarksOf(plan.Plan, recipe.Material, chance)], [], thicknessMm);
    }

    /// <summary>A saturating law whose full mark lies somewhere on the card, or just beyond it.</summary>
    private static IEnumerable<TrueMark> MarksOf(Plan plan, SurfaceKind material, Chance chance)
    {
        SaturatingLaw law = new(1, 0.03 * chance.Uniform(), 0.8 * Math.Exp(0.8 * (chance.Uniform() - 0.5)), 1.2);
        double speedExponent = 0.85 + 0.25 * chance.Uniform();
        foreach (Cell cell in plan.Cells)
        {
            CellSettings settings = plan.SettingsOf(cell);
            double dose = settings.DoseOf(Process.Engrave, plan.Machine.RatedOpticalWatts)!.Value
                * Math.Pow(settings.SpeedMmPerMin / 2000, 1 - speedExponent);
            double expected = law.Strength(dose), share = expected * (1 + 0.015 * chance.Normal());
            yield return new(-Math.Log10(1 + (material.Marked - 1) * share), expected);
        }
    }

    /// <summary>A side is open, held by bridges, or closed, as its energy lies to what its place on the card wants.</summary>
    private static IEnumerable<CutCell> CutsOf(Plan plan, Chance chance)
    {
        double wanted = 0.12 * Math.Exp(0.8 * (chance.Uniform() - 0.5)), kerfMm = 0.18 + 0.2 * chance.Uniform();
        foreach (Cell cell in plan.Cells)
        {
            double energy = plan.SettingsOf(cell).DoseOf(Process.Cut, plan.Machine.RatedOpticalWatts)!.Value;
            CutSide Side() => CutSideOf(Math.Log(energy / wanted) + 0.12 * chance.Normal(), kerfMm, cell.WidthMm, chance);
            yield return new(Side(), Side(), Side(), Side());
        }
    }

    private static CutSide CutSideOf(double excess, double kerfMm, double lengthMm, Chance chance)
    {
        CutSide open = new() { ThroughMm = kerfMm * (1 + 0.1 * Math.Clamp(excess, -1, 1)), FaceMm = 1.3 * kerfMm };
        if (excess > 0.15) return open;
        if (excess < -0.15) return open with { ThroughMm = 0 };
        double share = (0.15 - excess) / 0.3, heldMm = Math.Max(0.4, share * 0.7 * lengthMm);
        double at = heldMm / 2 + (lengthMm - heldMm) * chance.Uniform();
        return open with { Bridges = [new(at, heldMm)] };
    }
}
