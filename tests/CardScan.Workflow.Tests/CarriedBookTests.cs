using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Scoring;

namespace CardScan.Workflow.Tests;

/// <summary>An archive of cards of a 5 W module, and the first few of a 12 W one.</summary>
public sealed class CarriedBookTests : IDisposable
{
    private const string Old = "old module", New = "new module";

    /// <summary>J/mm² that each material needs for 63 % of its mark, on the old module and over that on the new one.</summary>
    private static readonly Dictionary<string, (double Need, double Factor)> Materials = new()
    {
        ["alder"] = (1.0, 1.20), ["slate"] = (2.5, 1.10), ["leather"] = (0.5, 1.30), ["acrylic"] = (1.6, 1.15), ["cork"] = (0.8, 1.25),
    };

    private readonly BurnedCards _cards = new();

    private int _number;

    public void Dispose() => _cards.Dispose();

    [Fact]
    public void Two_cards_on_the_new_module_bring_the_others_nearer_than_the_watts_and_never_call_them_burned()
    {
        foreach (string material in Materials.Keys) Burn(material, Old, 5);
        KeepNewProfile();
        CarriedProcess watts = Assert.Single(Carried().Processes);
        foreach (string material in (string[])["alder", "leather"]) Burn(material, New, 12);

        CarriedProcess two = Assert.Single(Carried().Processes);

        Assert.Empty(watts.BurnedOnBoth);
        Assert.Equal(5, Names(watts).Count());
        Assert.Equal(["leather", "alder"], two.BurnedOnBoth.Select(name => name.Split(' ')[0]));
        Assert.Equal(["acrylic", "cork", "slate"], Names(two).Order());
        Assert.True(Width(two.Factor) < Width(watts.Factor) - 0.5, $"{Width(two.Factor)} after {Width(watts.Factor)}");
        Assert.True(Width(two.AfterOneMore) < Width(two.Factor));
        foreach (CarriedRow row in two.Rows)
        {
            (double _, double factor) = Materials[row.From.Card.Material];
            Assert.InRange(factor, two.Factor.Low, two.Factor.High);
            // At the same power, the mark of the old speed comes at this one.
            double right = row.From.Recommendation.SpeedMmPerMin * (12.0 / 5) / factor;
            Assert.InRange(right, row.Setting.SameDelivery.Low, row.Setting.SameDelivery.High);
            Assert.True(Width(row.Setting.Speed) > Width(row.Setting.SameDelivery));
            Assert.Contains("on a sheet of batch B-1, between", Voice.Tell(row.RangeFigure()), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Cards_to_burn_first_are_of_unlike_materials_and_their_commands_plan_cards()
    {
        foreach (string material in Materials.Keys) Burn(material, Old, 5);
        KeepNewProfile();

        CarriedBook book = Carried();
        ValueList<CarriedRow> first = book.Processes[0].First;

        Assert.Equal(3, first.Count);
        Assert.Equal(3, first.Select(row => row.From.Card.Material).Distinct().Count());
        string line = PlanLine.Of(first[0], book.To);
        Assert.Contains($"--machine \"{New}\" --watts 12", line, StringComparison.Ordinal);
        string speeds = line.Split("--speed ")[1].Split(' ')[0], powers = line.Split("--power ")[1].Split(' ')[0];
        Plan card = CardPlanner.MakePlan(new()
        {
            Material = new() { Name = first[0].From.Card.Material, ThicknessMm = 3 },
            Machine = book.To,
            Settings = [SettingRange.Parse(Setting.PowerPercent, powers).Value, SettingRange.Parse(Setting.SpeedMmPerMin, speeds).Value],
        }).Value;
        Assert.Equal(12, card.Cells.Count);
    }

    /// <summary>Lines 0.1 mm apart touch where the beam is 0.12 mm wide across them, and not where it is 0.06 mm.</summary>
    [Theory]
    [InlineData(0.12, 1)]
    [InlineData(0.06, 0)]
    public void A_setting_whose_lines_would_not_touch_is_left_out_by_name(double beamYMm, int rows)
    {
        Burn("alder", Old, 5);
        KeepNewProfile(beamYMm);

        CarriedBook book = Carried();
        CarriedProcess process = Assert.Single(book.Processes);

        Assert.Equal(rows, Names(process).Count());
        Assert.Equal(1 - rows, process.LeftOut.Count);
        Assert.All(process.LeftOut, left => Assert.StartsWith(
            "alder 3 mm is not carried over: its lines are 0.1 mm apart", Voice.Tell(left.ToFigure(book.To)), StringComparison.Ordinal));
    }

    [Fact]
    public void What_cannot_be_carried_over_is_refused_with_its_reason()
    {
        Burn("alder", Old, 5);
        Burn("alder", "shared name", 5);
        Burn("alder", "shared name", 10);
        Burn("alder", "gas tube", 40, wavelengthNm: 10_600);

        Assert.Equal(Codes.CarryUnknown, Refused("attic", Old));
        Assert.Equal(Codes.CarryUnknown, Refused(Old, "attic"));
        Assert.Equal(Codes.CarrySame, Refused(Old, Old));
        Assert.Equal(Codes.CarrySeveral, Refused("shared name", Old));
        Assert.Equal(Codes.CarryWavelength, Refused(Old, "gas tube"));
        Assert.Null(Refused("shared name, 10 W, 455 nm", Old));

        string? Refused(string from, string to) => CarriedBook.Of(_cards.Archive, Profiles, from, to).Refusal?.Code;
    }

    private Profiles Profiles => new(_cards["profiles"]);

    private static IEnumerable<string> Names(CarriedProcess process) => process.Rows.Select(row => row.From.Card.Material).Distinct();

    private static double Width(Interval interval) => Math.Log(interval.High / interval.Low);

    private CarriedBook Carried() => CarriedBook.Of(_cards.Archive, Profiles, Old, New).Value;

    private void KeepNewProfile(double? beamYMm = null) => Assert.False(Profiles.Save(
        new Machine
        {
            Name = New, RatedOpticalWatts = 12, WavelengthNm = 455, FastestFeedMmPerMin = 30_000, BeamXMm = beamYMm, BeamYMm = beamYMm,
        }, mayReplace: false).IsRefused);

    private void Burn(string material, string machine, double watts, double wavelengthNm = 455)
    {
        (double need, double factor) = Materials[material];
        if (machine == New) need *= factor;
        Plan plan = CardPlanner.MakePlan(new()
        {
            Number = ++_number,
            Material = new() { Name = material, ThicknessMm = 3, Batch = "B-1" },
            Machine = new() { Name = machine, RatedOpticalWatts = watts, WavelengthNm = wavelengthNm },
            AcceptedRisk = null,
            Settings =
            [
                SettingRange.Parse(Setting.PowerPercent, "20:100:5").Value,
                // From a third of the need to four times as much at full power.
                new(Setting.SpeedMmPerMin, new[] { 4, 2.5, 1.5, 0.9, 0.5, 0.3 }
                    .Select(times => Math.Round(watts * 60 / (0.1 * need * times))).ToValueList()),
            ],
        }).Value;
        Reading burned = BurnedCards.Reading(plan);
        Reading reading = burned with
        {
            Cells = burned.Cells.Select((cell, i) =>
            {
                double strength = 0.8 * (1 - Math.Exp(-Math.Pow(plan.DoseOf(cell.Settings)!.Value / need, 1.3)));
                return cell with { Darkness = new(-Math.Log10(1 - strength) + 0.005 * Math.Sin(7 * i + _number), 0.01) };
            }).ToValueList(),
        };
        _cards.Keep(CardScorer.Score(reading, new()));
    }
}
