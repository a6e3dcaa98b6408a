using CardScan.Model;

namespace CardScan.Scoring.Tests;

public sealed class CardJoinTests
{
    private static readonly Plan Usual = new SimulatedCard().Plan with
    {
        Number = 17,
        Material = new() { Name = "birch plywood", ThicknessMm = 3, Batch = "B-0412" },
        Machine = new() { Name = "bench diode", RatedOpticalWatts = 10, WavelengthNm = 455, BeamXMm = 0.1, BeamYMm = 0.15 },
        Fixed = new SimulatedCard().Plan.Fixed with { AirAssist = new() { IsOn = true, Pressure = "0.5 bar" } },
    };

    private static readonly Reading First = Read(Usual);

    /// <summary>What differs, and what the refusal says of it.</summary>
    public static TheoryData<Func<Plan, Plan>, string> Differences => new()
    {
        { plan => plan with { Process = Process.Cut }, "the process of card 17 is engrave, that of card 19 cut" },
        { plan => plan with { Material = plan.Material with { Name = "alder plywood" } },
            "the material of card 17 is \"birch plywood\", that of card 19 \"alder plywood\"" },
        { plan => plan with { Material = plan.Material with { ThicknessMm = 3.1 } },
            "the thickness of card 17 is 3 mm, that of card 19 3.1 mm" },
        { plan => plan with { Material = plan.Material with { ThicknessMm = null } },
            "the thickness of card 17 is 3 mm, that of card 19 not given" },
        { plan => plan with { Material = plan.Material with { Batch = "B-0597" } },
            "the batch of card 17 is \"B-0412\", that of card 19 \"B-0597\"" },
        { plan => plan with { Material = plan.Material with { Batch = null } },
            "the batch of card 17 is \"B-0412\", that of card 19 not given" },
        { plan => plan with { Machine = plan.Machine with { Name = "shed diode" } },
            "the machine of card 17 is \"bench diode\", that of card 19 \"shed diode\"" },
        { plan => plan with { Machine = plan.Machine with { RatedOpticalWatts = 20 } },
            "the rated optical power of card 17 is 10 W, that of card 19 20 W" },
        { plan => plan with { Machine = plan.Machine with { BeamMode = BeamMode.FollowsSpeed } },
            "the beam mode of card 17 is constant power, that of card 19 power that follows the speed" },
        { plan => plan with { Machine = plan.Machine with { WavelengthNm = 1064 } },
            "the wavelength of card 17 is 455 nm, that of card 19 1064 nm" },
        { plan => plan with { Machine = plan.Machine with { BeamXMm = 0.06 } },
            "the width of the beam along x of card 17 is 0.1 mm, that of card 19 0.06 mm" },
        { plan => plan with { Machine = plan.Machine with { BeamYMm = 0.06 } },
            "the width of the beam along y of card 17 is 0.15 mm, that of card 19 0.06 mm" },
        { plan => plan with { Fixed = plan.Fixed with { FocusOffsetMm = -1 } },
            "the focus offset of card 17 is 0 mm, that of card 19 -1 mm" },
        {
            plan => plan with
            {
                Columns = new() { Setting = Setting.FocusOffsetMm, Values = [-2, -1, 0, 1, 2, 3] },
                Fixed = plan.Fixed with { PowerPercent = 50 }
            },
            "the focus offset of card 17 is 0 mm, that of card 19 an axis"
        },
        { plan => plan with { Fixed = plan.Fixed with { LineIntervalMm = 0.08 } },
            "the line interval of card 17 is 0.1 mm, that of card 19 0.08 mm" },
        { plan => plan with { Fixed = plan.Fixed with { LineIntervalMm = null } },
            "the unit of the energy of card 17 is J/mm2, that of card 19 not known" },
        { plan => plan with { Fixed = plan.Fixed with { AirAssist = new() { IsOn = false } } },
            "the air assist of card 17 is on (0.5 bar), that of card 19 off" },
        { plan => plan with { Fixed = plan.Fixed with { AirAssist = new() { IsOn = true, Pressure = "2 bar" } } },
            "the air assist of card 17 is on (0.5 bar), that of card 19 on (2 bar)" },
        { plan => plan with { Fixed = plan.Fixed with { FocusStepMm = 1 } },
            "the step of the focus from pass to pass of card 17 is 0 mm, that of card 19 1 mm" },
        { plan => plan with { Fixed = plan.Fixed with { PassPauseS = 20 } },
            "the pause between passes of card 17 is 0 s, that of card 19 20 s" },
        { plan => plan with { Kind = CardKind.FocusLadder }, "card 19 is a focus ladder, which has no grid of power and speed" },
        { plan => plan with { Kind = CardKind.GreyStrip }, "card 19 is a grey strip, which has no grid of power and speed" },
    };

    [Theory]
    [MemberData(nameof(Differences))]
    public void What_changes_the_answer_to_a_dose_keeps_cards_apart_and_is_named_with_both_values(
        Func<Plan, Plan> change, string difference)
    {
        Refusal refusal = CardJoin.Obstacle(First, Read(change(Usual with { Number = 19 })))!;
        Assert.Equal("cards-unlike", refusal.Code);
        Assert.Equal($"Card 17 and card 19 cannot be scored together: {difference}.", refusal.Seen);
        Assert.StartsWith("Score each alone.", refusal.Remedy, StringComparison.Ordinal);
    }

    /// <summary>What may differ from card to card.</summary>
    public static TheoryData<Func<Plan, Plan>> Freedoms => new()
    {
        { plan => plan },
        { plan => plan with { Title = "finer", Card = new() { WidthMm = 200, HeightMm = 200 } } },
        {
            plan => plan with
            {
                Material = plan.Material with
                {
                    Name = " Birch Plywood ", Batch = "b-0412 ", ThicknessMm = 3.004, Notes = "from the shed"
                }
            }
        },
        {
            plan => plan with
            {
                Machine = plan.Machine with
                {
                    Name = "Bench Diode",
                    WavelengthNm = null,
                    BeamXMm = null,
                    BeamYMm = null,
                    FastestFeedMmPerMin = 6000,
                    AccelerationMmPerS2 = 300,
                    BeamMode = BeamMode.Constant
                }
            }
        },
        { plan => plan with { Fixed = plan.Fixed with { Passes = 2 } } },
        { plan => plan with { Fixed = plan.Fixed with { AirAssist = null } } },
        { plan => plan with { Fixed = plan.Fixed with { AirAssist = new() { IsOn = true }, FocusStepMm = 0, PassPauseS = 0 } } },
        {
            plan => plan with
            {
                Columns = new() { Setting = Setting.Passes, Values = [1, 2, 3, 4, 5, 6] },
                Fixed = plan.Fixed with { PowerPercent = 50, Passes = null }
            }
        },
    };

    [Theory]
    [MemberData(nameof(Freedoms))]
    public void What_enters_the_dose_or_does_not_matter_may_differ(Func<Plan, Plan> change)
    {
        Reading other = Read(change(Usual with { Number = 19 }));
        Assert.Null(CardJoin.Obstacle(First, other));
        Assert.Null(CardJoin.Obstacle(other, First));
    }

    [Fact]
    public void Cards_without_a_batch_join_each_other()
    {
        Plan bare = Usual with { Material = Usual.Material with { Batch = " " } };
        Assert.Null(CardJoin.Obstacle(Read(bare), Read(bare with { Material = bare.Material with { Batch = null } })));
    }

    [Theory]
    [InlineData(Setting.FocusOffsetMm)]
    [InlineData(Setting.LineIntervalMm)]
    public void A_setting_that_is_an_axis_of_both_cards_may_have_other_values_on_each(Setting setting)
    {
        Reading narrow = Read(Along(setting, [0.06, 0.08, 0.1, 0.12, 0.14, 0.16])),
            wide = Read(Along(setting, [0.1, 0.2, 0.3, 0.4, 0.5, 0.6]));
        Assert.Null(CardJoin.Obstacle(narrow, wide));
    }

    [Fact]
    public void The_line_interval_of_a_cut_is_none_and_keeps_nothing_apart()
    {
        Plan cut = Usual with { Process = Process.Cut };
        Assert.Null(CardJoin.Obstacle(Read(cut), Read(cut with { Fixed = cut.Fixed with { LineIntervalMm = null } })));
    }

    private static Plan Along(Setting setting, ValueList<double> values) => Usual with
    {
        Columns = new() { Setting = setting, Values = values },
        Fixed = Usual.Fixed with { PowerPercent = 50, LineIntervalMm = setting == Setting.LineIntervalMm ? null : 0.1 },
    };

    private static Reading Read(Plan plan) => new()
    {
        Format = Reading.CurrentFormat,
        Plan = plan,
        Cells = plan.Cells.Select(cell => new CellReading
        {
            Row = cell.Row,
            Column = cell.Column,
            Settings = plan.SettingsOf(cell),
            Darkness = new(0.4, 0.01)
        }).ToValueList(),
    };
}
