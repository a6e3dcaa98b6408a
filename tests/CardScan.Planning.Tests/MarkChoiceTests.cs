using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

/// <summary>Markers that a photo shows, whatever is asked of the cells.</summary>
public class MarkChoiceTests
{
    [Fact] // 0.006 J/mm² once: a card burned in vain.
    public void Markers_get_the_energy_that_the_material_needs_where_the_grid_is_fainter()
    {
        MarkSetting marks = MarksOf(Engrave with
        {
            Machine = new() { Name = "small", RatedOpticalWatts = 2 },
            Settings = [Range(Setting.PowerPercent, "1:5:5"), Range(Setting.SpeedMmPerMin, "3000,6000")],
        });
        Assert.True(DoseOf(marks, 2) > 0.9, $"{DoseOf(marks, 2)} J/mm²");
    }

    [Fact]
    public void Markers_take_the_middle_of_a_grid_that_marks_well()
    {
        MarkSetting marks = MarksOf(Engrave with
        {
            Machine = Bench, Settings = [Range(Setting.PowerPercent, "60,80,100"), Range(Setting.SpeedMmPerMin, "1000,2000,3000")],
        });
        Assert.Equal((80, 2000, 0.1), (marks.PowerPercent, marks.SpeedMmPerMin, marks.LineIntervalMm));
    }

    [Theory] // A sharp photo of markers with lines 0.3 mm apart was refused.
    [InlineData("0.1,0.2,0.3,0.4")]
    [InlineData("0.4")]
    public void Lines_of_markers_lie_a_tenth_of_a_millimetre_apart_whatever_the_cells_have(string intervals)
    {
        PlanRequest request = Engrave with
        {
            Machine = Bench,
            Settings =
            [
                Range(Setting.PowerPercent, "50"), Range(Setting.SpeedMmPerMin, "300,600"), Range(Setting.LineIntervalMm, intervals),
            ],
        };
        Assert.Equal(0.1, MarksOf(request).LineIntervalMm);
    }

    [Theory]
    [InlineData(0.0000001, 2000, null)] // S0 in the machine file once
    [InlineData(1, 6000, null)]
    [InlineData(60, 2000, 0.3)]
    public void Marks_that_were_asked_for_and_would_not_be_found_are_refused_with_what_to_give(double power, double speed, double? interval)
    {
        Refusal refusal = CardPlanner.MakePlan(Engrave with
        {
            Machine = Bench, Mark = new() { PowerPercent = power, SpeedMmPerMin = speed, LineIntervalMm = interval },
        }).Refusal!;
        Assert.Equal("plan-value", refusal.Code);
        Assert.Contains(interval is null ? "at least" : "at most 0.2 mm", refusal.Told(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_materials_own_mark_is_held_to_the_same_rule()
    {
        Material faint = Engrave.Material with { Mark = new() { PowerPercent = 1, SpeedMmPerMin = 6000 } };
        Assert.Equal("plan-value", CardPlanner.MakePlan(Engrave with { Machine = Bench, Material = faint }).Refusal?.Code);
        Assert.Equal("plan-value", CardPlanner.MakePlan(Cut with { Machine = Bench, Material = faint }).Refusal?.Code);
    }

    [Theory]
    [InlineData("paper")]
    [InlineData("birch plywood")]
    [InlineData("anodised aluminium")]
    [InlineData("something nobody knows")]
    public void A_cut_or_a_ladder_marks_with_what_the_kind_of_material_needs(string name)
    {
        double need = StartChooser.Expected(new() { Name = name }, Process.Engrave, Bench, null)?.Energy ?? MarkChoice.UsualDoseJPerMm2;
        MarkSetting marks = MarksOf(Cut with { Machine = Bench, Material = new() { Name = name, ThicknessMm = 1 } });
        Assert.Equal(1, DoseOf(marks, 10) / need, 0.05);
    }

    private static double DoseOf(MarkSetting marks, double watts) =>
        watts * marks.PowerPercent / 100 * 60 / (marks.SpeedMmPerMin * marks.LineIntervalMm!.Value);

    private static MarkSetting MarksOf(PlanRequest request) => CardPlanner.MakePlan(request).Value.Burning!.Marks;
}
