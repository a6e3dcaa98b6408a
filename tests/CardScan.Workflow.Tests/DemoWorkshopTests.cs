using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow.Tests;

/// <summary>The invented workshop of the demonstration, and the law that its cards were invented by.</summary>
public sealed class DemoWorkshopTests
{
    private static readonly Machine
        Old = new() { Name = "old module", RatedOpticalWatts = 5, WavelengthNm = 450, FastestFeedMmPerMin = 6000 },
        New = new() { Name = "new module", RatedOpticalWatts = 12, WavelengthNm = 450, FastestFeedMmPerMin = 12_000 };

    /// <summary>
    /// Material, thickness (mm), energy for 63 % of the mark on the old module (J/mm²), and what the new one needs over that; null where
    /// it burned no card of it yet.
    /// </summary>
    private static readonly (string Material, double ThicknessMm, double Need, double? New)[] Engraved =
    [
        ("birch plywood", 3, 1.0, 1.15), ("cork", 4, 0.7, null), ("grey board", 2, 0.45, null), ("maple", 5, 1.3, 1.22),
        ("slate", 6, 2.2, null),
    ];

    private static string Folder => Path.Combine(AppContext.BaseDirectory, DemoWorkshop.FixtureFolder);

    [Fact]
    public void The_shipped_readings_are_those_of_the_law()
    {
        string? write = Environment.GetEnvironmentVariable("CARDSCAN_WRITE_DEMO");
        foreach ((string name, Reading reading) in Readings())
        {
            string json = CardJson.Write(reading);
            if (write is not null) File.WriteAllText(Path.Combine(write, name), json);
            else Assert.Equal(json, File.ReadAllText(Path.Combine(Folder, name)));
        }
    }

    [Fact]
    public void The_demonstration_shows_settings_a_sheet_and_what_the_new_module_may_need()
    {
        using BurnedCards cards = new();
        for (int run = 0; run < 2; run++)
        {
            DemoWorkshopResult shown = DemoWorkshop.Run(AppContext.BaseDirectory, cards["."], cards.Clock).Value;

            Assert.Equal(6, shown.Settings.Settings.Where(each => each.Machine.Name == Old.Name && each.IsSetting)
                .Select(each => (each.Card.Material, each.Card.Process)).Distinct().Count());
            Assert.Equal("%PDF"u8, File.ReadAllBytes(shown.Sheet).AsSpan(0, 4));
            CarriedProcess engraving = shown.Carried.Processes.Single(each => each.Process == Process.Engrave);
            Assert.Equal(["birch plywood 3 mm", "maple 5 mm"], engraving.BurnedOnBoth.Order());
            Assert.InRange(1.2, engraving.Factor.Low, engraving.Factor.High);
            Assert.Equal(["cork", "grey board", "slate"], engraving.Rows.Select(row => row.From.Card.Material).Distinct().Order());
        }
    }

    private static IEnumerable<(string Name, Reading Reading)> Readings()
    {
        int number = 0;
        foreach ((string material, double thickness, double need, double? factor) in Engraved)
        {
            foreach ((Machine machine, double times) in new[] { (Old, 1.0), (New, factor ?? 0) }.Where(each => each.Item2 > 0))
                yield return Burned(EngravedPlan(++number, material, thickness, machine, need * times), Darkness(number, need * times));
        }

        yield return Burned(CutPlan(++number), Sides(number));
    }

    private static (string, Reading) Burned(Plan plan, Func<Plan, CellReading, CellReading> measured)
    {
        Reading reading = BurnedCards.Reading(plan);
        return ($"{plan.Number:00}-{plan.Material.Name.Replace(' ', '-')}.json",
            reading with { Cells = reading.Cells.Select(cell => measured(plan, cell)).ToValueList() });
    }

    private static Func<Plan, CellReading, CellReading> Darkness(int number, double need) => (plan, cell) =>
    {
        double strength = 0.8 * (1 - Math.Exp(-Math.Pow(plan.DoseOf(cell.Settings)!.Value / need, 1.3)));
        double chance = 0.006 * Math.Sin(7 * (5 * cell.Row + cell.Column) + number);
        return cell with { Darkness = new(Math.Round(chance - Math.Log10(1 - strength), 4), 0.01) };
    };

    /// <summary>Through from 1.1 J/mm on, give or take some per cent.</summary>
    private static Func<Plan, CellReading, CellReading> Sides(int number) => (plan, cell) =>
    {
        double energy = plan.DoseOf(cell.Settings)!.Value;
        SideReading[] sides = [.. Enumerable.Range(0, 4).Select(side =>
        {
            bool isOpen = energy * (1 + 0.06 * Math.Sin(11 * (5 * cell.Row + cell.Column) + 3 * side + number)) > 1.1;
            return new SideReading
            {
                State = isOpen ? SideState.Open : SideState.Closed, OpenFraction = isOpen ? 1 : 0, SeenFraction = 1,
            };
        })];
        return cell with { Darkness = null, Sides = new(sides[0], sides[1], sides[2], sides[3]) };
    };

    /// <summary>From a third of the need to four times as much at full power.</summary>
    private static Plan EngravedPlan(int number, string material, double thickness, Machine machine, double need) => PlanOf(
        number, Process.Engrave, material, thickness, machine, "20:100:5",
        [.. new[] { 4, 2.2, 1.2, 0.65, 0.35 }.Select(times => machine.RatedOpticalWatts * 60 / (0.1 * need * times))]);

    private static Plan CutPlan(int number) =>
        PlanOf(number, Process.Cut, "poplar plywood", 3, Old, "60:100:5", [100, 140, 190, 260, 350, 470]);

    private static Plan PlanOf(
        int number, Process process, string material, double thickness, Machine machine, string powers, double[] speeds) =>
        CardPlanner.MakePlan(new()
        {
            Number = number,
            Process = process,
            Title = material,
            Material = new() { Name = material, ThicknessMm = thickness, Batch = "spring" },
            Machine = machine,
            Settings =
            [
                SettingRange.Parse(Setting.PowerPercent, powers).Value,
                new(Setting.SpeedMmPerMin,
                    speeds.Select(Rounding.TwoFigures).Where(speed => speed <= machine.FastestFeedMmPerMin).ToValueList()),
            ],
        }).Value;
}
