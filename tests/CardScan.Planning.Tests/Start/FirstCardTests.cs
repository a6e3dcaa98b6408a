using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Planning.Tests;

public class FirstCardTests
{
    private static readonly Machine TenWatts =
        new() { Name = "blue 10", RatedOpticalWatts = 10, WavelengthNm = 450, FastestFeedMmPerMin = 8000 };

    /// <summary>Everyday names and their kinds (common practice, no source).</summary>
    [Theory]
    [InlineData("birch plywood", "plywood")]
    [InlineData("3mm Birkensperrholz", "plywood")]
    [InlineData("Sperrholz Birke", "plywood")]
    [InlineData("contreplaqué bouleau", "plywood")]
    [InlineData("birch", "hardwood")]
    [InlineData("Scots pine", "softwood")]
    [InlineData("bamboo 8 mm", "bamboo")]
    [InlineData("clear acrylic", "acrylic-clear")]
    [InlineData("black acrylic", "acrylic-dark")]
    [InlineData("painted metal card", "coated-metal")]
    [InlineData("anodised aluminium card", "anodised")]
    [InlineData("stainless steel", "metal")]
    [InlineData("veg-tanned leather", "leather")]
    [InlineData("slate coaster", "slate")]
    [InlineData("Pappelsperrholz", "plywood")]
    [InlineData("blue-black steel coated paper", "paper")]
    [InlineData("steel coated paper, 120 g", "paper")]
    [InlineData("painted steel, paper masked", "coated-metal")]
    [InlineData("marble paper white 80 g", "paper")]
    [InlineData("paper coated metal", "coated-metal")]
    [InlineData("aluminium with masking paper", "metal")]
    [InlineData("metallic card", "cardboard")]
    [InlineData("gold foil card", "cardboard")]
    [InlineData("painted brass card", "coated-metal")]
    [InlineData("papel de aluminio", "metal")]
    [InlineData("silver birch plywood", "plywood")]
    [InlineData("silver birch", "hardwood")]
    [InlineData("clear acrylic with black paint", "acrylic-coated")]
    [InlineData("painted clear acrylic", "acrylic-coated")]
    [InlineData("clear acrylic, back painted", "acrylic-coated")]
    [InlineData("glass with black paint", "glass-coated")]
    [InlineData("schwarz lackiertes Glas", "glass-coated")]
    [InlineData("plywood with acrylic paint", "plywood")]
    [InlineData("clear PETG sheet", "clear-plastic")]
    [InlineData("polyester felt", "synthetic")]
    [InlineData("acrylic felt", "synthetic")]
    [InlineData("wool felt", "felt")]
    [InlineData("merino wool felt", "felt")]
    [InlineData("feutrine rouge", "synthetic")]
    [InlineData("cartulina negra", "cardboard")]
    [InlineData("Baumwollstoff ungebleicht", "cotton")]
    [InlineData("raincoat fabric", null)]
    [InlineData("Schieferuntersetzer", "slate")]
    [InlineData("Kirschbaumfurnier", "hardwood")]
    [InlineData("liège naturel 3 mm", "cork")]
    [InlineData("tablero de pino macizo", "softwood")]
    [InlineData("verre à vin", "glass")]
    [InlineData("vetro verniciato nero", "glass-coated")]
    [InlineData("stone look paper", "paper")]
    [InlineData("leather look card", "cardboard")]
    [InlineData("magnesium oxide board", null)]
    [InlineData("stainless steel tumbler, anodised", "anodised")]
    [InlineData("Leder, pflanzlich gegerbt", "leather")]
    [InlineData("the usual stuff", null)]
    [InlineData("", null)]
    public void A_name_says_its_kind_or_nothing_is_guessed(string name, string? kind) => Assert.Equal(kind, MaterialKinds.Of(name));

    [Fact]
    public void Every_row_is_of_a_known_kind_and_says_how_sure_it_is_and_where_it_comes_from()
    {
        Assert.All(StartingEnergies.All, row =>
        {
            Assert.True(row.Kind == "white-plastic" || MaterialKinds.All.Contains(row.Kind), row.Kind);
            Assert.NotEmpty(row.Source);
            if (row.Energy is { } energy) Assert.True(energy > 0 && row.Factor is >= 1.3 and <= 4, $"{row}");
        });
        Assert.Equal(StartingEnergies.All.Count, StartingEnergies.All.DistinctBy(row => (row.Kind, row.Process, row.Laser)).Count());
        Assert.All(MaterialKinds.All.Where(kind => kind != "synthetic"),
            kind => Assert.NotNull(StartingEnergies.Find(kind, Process.Engrave, 450)));
    }

    /// <summary>
    /// The chance that the need lies inside, by needs drawn about the stated energy: a limit is inside where some speed at
    /// full power of the card is too fast and another slow enough.
    /// </summary>
    [Theory]
    [InlineData("birch plywood", 3, Process.Cut)]
    [InlineData("bamboo", 8, Process.Cut)]
    [InlineData("leather", 2, Process.Cut)]
    [InlineData("birch plywood", 3, Process.Engrave)]
    [InlineData("anodised aluminium", 1, Process.Engrave)]
    [InlineData("slate", 5, Process.Engrave)]
    [InlineData("paper", 0.2, Process.Engrave)]
    public void In_four_of_five_first_cards_the_answer_lies_inside(string material, double thickness, Process process)
    {
        Start start = Begin(material, thickness, process);
        double interval = Values(start, Setting.LineIntervalMm)?[0] ?? 1, passes = Values(start, Setting.Passes)?[0] ?? 1;
        double most = Values(start, Setting.PowerPercent)![^1];
        double[] energies = [.. Values(start, Setting.SpeedMmPerMin)!
            .Select(speed => 60 * TenWatts.RatedOpticalWatts * most / 100 * passes / speed / interval)];
        Random random = new(1502);

        double[] needs = new double[4000];
        LogNormal.Samples(random, needs, Math.Log(start.Energy.Energy), Math.Log(start.Energy.Factor));
        double inside = needs.Count(need => energies.Min() < need && need <= energies.Max()) / (double)needs.Length;

        Assert.True(inside >= StartingGrid.Wanted, $"{inside:0.00}");
        Assert.Equal(energies.Length, energies.Distinct().Count());
    }

    /// <summary>Pine, 240 W CO2: 99.1 in/min through 0.25 in (H. McMillin, J. Harry, Forest Products Journal 21(10) 1971, 35-37).</summary>
    [Fact]
    public void A_published_cut_lies_inside_the_first_card()
    {
        Machine strong = new() { Name = "tube", RatedOpticalWatts = 240, WavelengthNm = 10600, FastestFeedMmPerMin = 30000 };
        Start start = CardPlanner.StartFor(new()
        {
            Process = Process.Cut,
            Machine = strong,
            Material = new() { Name = "southern pine", ThicknessMm = 6.35 }
        }).Value;
        ValueList<double> speeds = Values(start, Setting.SpeedMmPerMin)!;
        Assert.InRange(99.1 * 25.4, speeds[0], speeds[^1]);
        Assert.Equal(StartBasis.Published, start.Energy.Basis);
    }

    /// <summary>Beech under a CO2 beam: no visible change at 0.08 J/mm², black at 0.75 (BioResources 12(2) 2017, 4177).</summary>
    [Fact]
    public void A_published_engraving_lies_inside_the_first_card()
    {
        StartingEnergy beech = StartingEnergies.Find("hardwood", Process.Engrave, 10600)!.For(3)!;
        Assert.InRange(beech.Energy, 0.08 * beech.Factor, 0.75);
    }

    [Theory]
    [InlineData("clear acrylic", Process.Cut)]
    [InlineData("clear acrylic", Process.Engrave)]
    [InlineData("bare stainless steel", Process.Engrave)]
    [InlineData("brass", Process.Cut)]
    [InlineData("window glass", Process.Engrave)]
    public void What_a_blue_diode_does_not_take_is_said(string material, Process process)
    {
        Refusal refusal = Ask(material, 3, process).Refusal!;
        Assert.Equal("start-not-taken", refusal.Code);
        Assert.Contains("blue diode", refusal.Seen, StringComparison.Ordinal);
        Assert.Equal("laser-not-taken", StartChooser.NotTaken(new() { Name = material }, process, TenWatts)!.Code);
    }

    [Theory] // What melts has no figure of wool's: a range is asked for.
    [InlineData("polyester felt")]
    [InlineData("synthetic felt")]
    [InlineData("fleece")]
    public void Synthetic_felt_gets_no_energy_of_wool_felt(string material) =>
        Assert.Equal("start-no-figure", Ask(material, 3, Process.Engrave).Refusal!.Code);

    [Theory]
    [InlineData("clear acrylic with black paint")]
    [InlineData("glass with black paint")]
    [InlineData("blue-black steel coated paper")]
    public void What_a_coat_or_its_paper_makes_burnable_is_not_refused(string material) =>
        Assert.False(Ask(material, 3, Process.Engrave).IsRefused);

    [Fact]
    public void A_settings_range_that_was_given_stays_and_the_other_is_chosen_for_it()
    {
        SettingRange powers = new(Setting.PowerPercent, [20, 40]);
        Start start = CardPlanner.StartFor(new()
        {
            Process = Process.Engrave,
            Machine = TenWatts,
            Material = new() { Name = "oak" },
            Given = [powers]
        }).Value;
        Assert.Equal([20, 40], Values(start, Setting.PowerPercent)!);
        double middle = Math.Exp(Values(start, Setting.SpeedMmPerMin)!.Average(Math.Log)),
            interval = Values(start, Setting.LineIntervalMm)![0];
        Assert.InRange(60 * 10 * 0.4 / middle / interval / start.Energy.Energy, 0.8, 1.25);
    }

    [Fact]
    public void Thick_material_is_cut_in_several_passes_and_hopeless_material_is_refused()
    {
        Start start = Begin("bamboo", 8, Process.Cut);
        Assert.InRange(Values(start, Setting.Passes)![0], 2, 10);
        Assert.Equal("start-out-of-reach", Ask("oak", 60, Process.Cut).Refusal!.Code);
    }

    [Theory]
    [InlineData(null, -4)]
    [InlineData(-2.5, -2.5)]
    public void The_focus_of_a_cut_lies_in_its_middle_as_far_as_the_machine_goes(double? lowest, double expected)
    {
        Machine machine = TenWatts with { PoweredZ = lowest is { } mm ? new() { LowestMm = mm, HighestMm = 5 } : null };
        Material bamboo = new() { Name = "bamboo", ThicknessMm = 8 };
        Start start = CardPlanner.StartFor(new() { Process = Process.Cut, Machine = machine, Material = bamboo }).Value;
        Assert.Equal([expected], Values(start, Setting.FocusOffsetMm)!);
    }

    [Fact]
    public void A_cut_without_a_thickness_and_a_name_without_a_kind_are_asked_about()
    {
        Assert.Equal("start-thickness", Ask("oak", null, Process.Cut).Refusal!.Code);
        Assert.Equal("start-kind", Ask("the usual stuff", 3, Process.Engrave).Refusal!.Code);
    }

    [Fact]
    public void What_an_earlier_card_told_takes_the_place_of_the_table()
    {
        StartingEnergy known = new(2.5, 1.2, StartBasis.SameMaterial, "c12");
        Start start = CardPlanner.StartFor(new()
        {
            Process = Process.Engrave,
            Machine = TenWatts,
            Material = new() { Name = "the usual stuff" },
            Known = known
        }).Value;
        ValueList<double> speeds = Values(start, Setting.SpeedMmPerMin)!;
        Assert.True(speeds[^1] / speeds[0] < 3, "a well known need wants no wide card");
        Assert.Equal(known, start.Energy);
    }

    [Fact]
    public void A_first_card_can_be_planned_as_it_comes()
    {
        foreach (StartingEnergies.Row row in StartingEnergies.All.Where(row => row is { Laser: "blue", Energy: not null }))
        {
            Start start = StartChooser.For(new()
            {
                Process = row.Process, Machine = TenWatts, Material = new() { Name = "x", ThicknessMm = 3 }, Known = row.For(3),
            }).Value;
            Outcome<Plan> plan = CardPlanner.MakePlan(new()
            {
                Process = row.Process,
                Material = new() { Name = "x", ThicknessMm = 3 },
                Machine = TenWatts,
                Settings = start.Settings
            });
            Assert.False(plan.IsRefused, $"{row.Kind} {row.Process}: {plan.Refusal}");
        }
    }

    private static Start Begin(string material, double thickness, Process process) => Ask(material, thickness, process).Value;

    private static Outcome<Start> Ask(string material, double? thickness, Process process) =>
        CardPlanner.StartFor(new()
        {
            Process = process,
            Machine = TenWatts,
            Material = new() { Name = material, ThicknessMm = thickness }
        });

    private static ValueList<double>? Values(Start start, Setting setting) =>
        start.Settings.FirstOrDefault(range => range.Setting == setting)?.Values;
}
