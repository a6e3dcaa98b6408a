using System.Text;
using System.Text.Json.Nodes;

namespace CardScan.Model.Tests;

public class ProfileTests
{
    [Fact]
    public void Profiles_survive_write_and_read()
    {
        Assert.Equal(Samples.ProfiledMachine, CardJson.ReadMachine(Encoding.UTF8.GetBytes(CardJson.Write(Samples.ProfiledMachine))).Value);
        Assert.Equal(
            Samples.ProfiledMaterial, CardJson.ReadMaterial(Encoding.UTF8.GetBytes(CardJson.Write(Samples.ProfiledMaterial))).Value);
    }

    /// <summary>Fields came later and will again: a profile from before them stays one.</summary>
    [Fact]
    public void A_profile_with_the_fields_of_the_first_day_is_taken_whole()
    {
        Assert.Equal(
            new Machine { Name = "bench", RatedOpticalWatts = 5 },
            CardJson.ReadMachine("""{ "format": "cardscan-machine/1", "machine": { "name": "bench", "ratedOpticalWatts": 5 } }"""u8).Value);
        Assert.Equal(
            new Material { Name = "lime" },
            CardJson.ReadMaterial("""{ "format": "cardscan-material/1", "material": { "name": "lime" } }"""u8).Value);
    }

    [Theory]
    [InlineData("format", "\"cardscan-machine/0\"", "$.format is \"cardscan-machine/0\"")]
    [InlineData("format", "\"cardscan-machine/2\"", "$.format is \"cardscan-machine/2\"")]
    [InlineData("format", "\"cardscan-material/1\"", "This is a material profile, not a machine profile.")]
    [InlineData("format", "\"cardscan-plan/1\"", "This is a plan, not a machine profile.")]
    [InlineData("machine", "-", "$.machine is missing: expected an object")]
    [InlineData("machine.name", "\" \"", "$.machine.name is empty")]
    [InlineData("machine.ratedOpticalWatts", "-", "$.machine.ratedOpticalWatts is missing: expected a number")]
    [InlineData("machine.ratedOpticalWatts", "-5", "$.machine.ratedOpticalWatts is -5: expected more than 0 W optical")]
    [InlineData("machine.ratedOpticalWatts", "\"10 W\"", "$.machine.ratedOpticalWatts is \"10 W\": expected a number")]
    [InlineData("machine.wavelengthNm", "45", "$.machine.wavelengthNm is 45: expected 150 to 12000 nm")]
    [InlineData("machine.workArea", "[400,400]", "$.machine.workArea is [400,400]: expected an object")]
    [InlineData("machine.workArea.widthMm", "-", "$.machine.workArea.widthMm is missing")]
    [InlineData("machine.workArea.heightMm", "0", "$.machine.workArea.heightMm is 0: expected 20 to 10000 mm")]
    [InlineData("machine.workArea.depthMm", "3", "$.machine.workArea.depthMm is not a field of a profile")]
    [InlineData("machine.fastestFeedMmPerMin", "0", "$.machine.fastestFeedMmPerMin is 0: expected 1 to 1000000 mm/min")]
    [InlineData("machine.fullPowerS", "-1", "$.machine.fullPowerS is -1: expected 1 to 1000000.")]
    [InlineData("machine.beamMode", "\"pulsed\"", "$.machine.beamMode is \"pulsed\": expected one of \"constant\", \"followsSpeed\"")]
    [InlineData("machine.beamXMm", "80", "$.machine.beamXMm is 80: expected 0.001 to 5 mm")]
    [InlineData("machine.poweredZ", "true", "$.machine.poweredZ is true: expected an object")]
    [InlineData("machine.poweredZ.lowestMm", "5", "$.machine.poweredZ.lowestMm is 5: expected -500 to 0 mm")]
    [InlineData("machine.fastestSafeFeed", "6000", "$.machine.fastestSafeFeed is not a field of a profile")]
    [InlineData("supplyWatts", "40", "$.supplyWatts is not a field of a profile")]
    public void A_wrong_machine_is_refused_with_path_and_what_was_expected_in_one_line(string path, string value, string start) =>
        Refused(CardJson.ReadMachine(Spoilt(CardJson.Write(Samples.ProfiledMachine), path, value)).Refusal, start);

    [Theory]
    [InlineData("format", "\"cardscan-material/2\"", "$.format is \"cardscan-material/2\"")]
    [InlineData("material.name", "\"\"", "$.material.name is empty")]
    [InlineData("material.thicknessMm", "-3", "$.material.thicknessMm is -3: expected more than 0 mm")]
    [InlineData("material.mark.powerPercent", "140", "$.material.mark.powerPercent is 140: expected more than 0, at most 100 %")]
    [InlineData("material.mark.speedMmPerMin", "-", "$.material.mark.speedMmPerMin is missing")]
    [InlineData("material.mark.passes", "2", "$.material.mark.passes is not a field of a profile")]
    [InlineData("material.colour", "\"red\"", "$.material.colour is not a field of a profile")]
    public void A_wrong_material_is_refused_with_path_and_what_was_expected_in_one_line(string path, string value, string start) =>
        Refused(CardJson.ReadMaterial(Spoilt(CardJson.Write(Samples.ProfiledMaterial), path, value)).Refusal, start);

    [Theory]
    [InlineData("")]
    [InlineData("{ \"format\": \"cardscan-machine/1\", \"machine\": { \"ratedOpticalWatts\": NaN } }")]
    public void A_text_that_is_no_JSON_is_refused(string text) =>
        Assert.Equal("machine-not-json", CardJson.ReadMachine(Encoding.UTF8.GetBytes(text)).Refusal!.Code);

    private static void Refused(Refusal? refusal, string start)
    {
        Assert.NotNull(refusal);
        Assert.Equal(RefusalKind.WrongInput, refusal.Kind);
        Assert.StartsWith(start, refusal.Seen, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.ToString());
    }

    private static byte[] Spoilt(string json, string path, string value)
    {
        JsonNode root = JsonNode.Parse(json)!;
        string[] steps = path.Split('.');
        JsonObject parent = steps[..^1].Aggregate(root, (node, step) => node[step]!).AsObject();
        if (value == "-") Assert.True(parent.Remove(steps[^1]));
        else parent[steps[^1]] = JsonNode.Parse(value);
        return Encoding.UTF8.GetBytes(root.ToJsonString());
    }
}
