using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class MaterialDangerTests
{
    [Theory]
    [InlineData("PVC sheet", "PVC gives off hydrogen chloride")]
    [InlineData("self-adhesive vinyl", "PVC gives off hydrogen chloride")]
    [InlineData("faux leather", "PVC gives off hydrogen chloride")]
    [InlineData("ptfe tape", "PTFE gives off hydrogen fluoride")]
    [InlineData("white ABS", "ABS gives off hydrogen cyanide")]
    [InlineData("Polycarbonate 2 mm", "polycarbonate burns with toxic soot")]
    [InlineData("carbon-fiber plate", "carbon fibre gives off toxic fume and fibres")]
    [InlineData("FR4", "glass fibre gives off toxic fume and fibres")]
    [InlineData("chrome-tanned leather", "chrome-tanned leather gives off chromium")]
    [InlineData("beryllium copper", "beryllium dust causes lung disease and cancer")]
    [InlineData("HDPE", "foam and polyethylene melt and catch fire")]
    [InlineData("craft foam", "foam and polyethylene melt and catch fire")]
    [InlineData("magnesium sheet", "magnesium burns and water feeds the fire")]
    [InlineData("steel wool", "metal powder and steel wool catch fire or explode")]
    [InlineData("acrylic felt", "acrylonitrile plastic gives off hydrogen cyanide")]
    public void A_dangerous_material_is_refused_until_its_danger_is_repeated_in_words(string name, string words)
    {
        PlanRequest request = Engrave with { Material = new() { Name = name } };
        Refusal refusal = CardPlanner.MakePlan(request).Refusal!;
        Assert.Equal("material-dangerous", refusal.Code);
        Assert.Contains(words, refusal.Seen, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.ToString());
        Assert.True(CardPlanner.MakePlan(request with { AcceptedRisk = "yes" }).IsRefused);
        Assert.True(CardPlanner.MakePlan(request with { AcceptedRisk = words.Split(' ')[0] }).IsRefused);

        Plan plan = CardPlanner.MakePlan(request with { AcceptedRisk = words.ToUpperInvariant(), Machine = Bench }).Value;
        Assert.Equal(words.ToUpperInvariant(), plan.AcceptedRisk);
        Assert.Contains("ACCEPTED RISK", CardPlanner.WriteMachineFile(plan).Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_danger_of_a_name_must_be_accepted()
    {
        PlanRequest request =
            Engrave with { Material = new() { Name = "carbon fibre in epoxy" }, AcceptedRisk = "epoxy gives off toxic fume" };
        Assert.True(CardPlanner.MakePlan(request).IsRefused);
        Assert.False(CardPlanner.MakePlan(request with
        {
            AcceptedRisk = "carbon fibre gives off toxic fume and fibres, epoxy gives off toxic fume"
        }).IsRefused);
    }

    [Theory]
    [InlineData("PVC sheet", "material-danger")]
    [InlineData("MDF", "material-caution")]
    [InlineData("painted carbon fibre", "material-danger material-caution")]
    [InlineData("birch plywood", "")]
    [InlineData("PVC-free cork", "")]
    public void What_speaks_against_burning_is_told_dangers_first(string name, string codes) =>
        Assert.Equal(codes, string.Join(' ', CardPlanner.AgainstBurning(name).Select(advice => advice.Code)));

    [Theory]
    [InlineData("birch plywood")]
    [InlineData("PVC-free cork")]
    [InlineData("slab of slate")]
    [InlineData("vegetable-tanned leather")]
    public void An_ordinary_material_is_planned_and_its_risk_cannot_be_accepted_by_habit(string name)
    {
        PlanRequest request = Engrave with { Material = new() { Name = name } };
        Assert.False(CardPlanner.MakePlan(request).IsRefused);
        Assert.Equal("risk-unknown", CardPlanner.MakePlan(request with { AcceptedRisk = "PVC gives off hydrogen chloride" }).Refusal!.Code);
    }
}
