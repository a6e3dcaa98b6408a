using System.Net;
using AngleSharp.Html.Dom;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>Machines and materials on the page.</summary>
public class MachinesPageTests
{
    private static Profiles ProfilesOf(ServedPage page) => new(Path.Combine(page.Folder, "profiles"));

    private static async Task<string> Keep(ServedPage page, string path, params (string, string)[] fields)
    {
        using HttpResponseMessage answer = await page.Post(path, fields);
        return answer.Headers.TryGetValues(Answer.GoHeader, out IEnumerable<string>? go)
            ? go.Single()
            : await answer.Content.ReadAsStringAsync();
    }

    [Fact]
    public async Task Every_value_of_a_machine_can_be_given_and_changed()
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Equal("/machines", await Keep(page, "/machines/machine", ("name", "bench diode"), ("watts", "10 W"), ("wavelength", "455nm"),
            ("fastest-feed", "100mm/s"), ("area", "400x400mm"), ("full-power-s", "1000"), ("beam-mode", "from-rest"), ("beam", "0.08x0.06"),
            ("acceleration", "500"), ("powered-z", "-5:20"), ("air-switch", "m8")));
        Machine machine = new()
        {
            Name = "bench diode", RatedOpticalWatts = 10, WavelengthNm = 455, FastestFeedMmPerMin = 6000, FullPowerS = 1000,
            WorkArea = new() { WidthMm = 400, HeightMm = 400 }, BeamMode = BeamMode.FromRest, BeamXMm = 0.08, BeamYMm = 0.06,
            AccelerationMmPerS2 = 500, PoweredZ = new() { LowestMm = -5, HighestMm = 20 }, AirSwitch = AirSwitch.M8,
        };
        Assert.Equal(machine, ProfilesOf(page).OfName("bench diode", isMachine: true)!.Machine!.Content);

        IHtmlDocument form = await page.Page("/machines/machine?name=bench+diode");
        Assert.Equal("6000 mm/min", form.QuerySelector("#fastest-feed")!.GetAttribute("placeholder"));
        Assert.Equal("/machines", await Keep(page, "/machines/machine", ("kept", "bench diode"), ("fastest-feed", "50mm/s")));
        Machine slower = machine with { FastestFeedMmPerMin = 3000 };
        Assert.Equal(slower, ProfilesOf(page).OfName("Bench Diode", isMachine: true)!.Machine!.Content);
    }

    [Fact]
    public async Task A_material_is_kept_changed_and_chosen_as_the_default()
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Equal("/machines", await Keep(page, "/machines/material", ("name", "birch plywood"), ("thickness", "3"), ("batch", "B-0412"),
            ("mark-power", "60"), ("mark-speed", "2000"), ("notes", "<script>alert(1)</script>")));
        Assert.Equal("/machines", await Keep(page, "/machines/material", ("kept", "birch plywood"), ("batch", "B-0413")));
        Material kept = ProfilesOf(page).OfName("birch plywood", isMachine: false)!.Material!.Content;
        Assert.Equal(("B-0413", 3, 60), (kept.Batch, kept.ThicknessMm, kept.Mark!.PowerPercent));
        await Keep(page, "/machines/default", ("kind", "material"), ("name", "birch plywood"));
        Assert.Equal("birch plywood", ProfilesOf(page).ReadPreferences().Value.Material);
        IHtmlDocument list = await page.Page("/machines");
        Assert.Contains(Voice.Say("web.machines.is-default"), list.QuerySelector("main li")!.TextContent, StringComparison.Ordinal);
        Assert.Empty(list.QuerySelectorAll("script:not([src])"));
        Assert.Equal("birch plywood", (await page.Page(MakePage.Path)).QuerySelector("#material")!.GetAttribute("placeholder"));
        await Keep(page, "/machines/default", ("kind", "material"), ("name", "birch plywood"), ("off", "on"));
        Assert.Null(ProfilesOf(page).ReadPreferences().Value.Material);
    }

    [Fact]
    public async Task What_is_kept_already_is_replaced_only_where_that_is_asked_for()
    {
        await using ServedPage page = await ServedPage.Start();
        await Keep(page, "/machines/machine", ("name", "bench diode"), ("watts", "10"));
        string refused = await Keep(page, "/machines/machine", ("name", "bench diode"), ("watts", "5"));
        Assert.Contains(Codes.ProfileExists, refused, StringComparison.Ordinal);
        Assert.Equal(10, ProfilesOf(page).OfName("bench diode", isMachine: true)!.Machine!.Content.RatedOpticalWatts);
        Assert.Equal("/machines", await Keep(page, "/machines/machine", ("name", "bench diode"), ("watts", "5"), ("replace", "on")));
        Assert.Equal(5, ProfilesOf(page).OfName("bench diode", isMachine: true)!.Machine!.Content.RatedOpticalWatts);
    }

    [Theory]
    [InlineData("/machines/machine", "watts", "10", Codes.PlanValue)]
    [InlineData("/machines/machine", "name", "x", Codes.MachineWatts)]
    [InlineData("/machines/machine", "wavelength", "5", Codes.PlanValue)]
    [InlineData("/machines/material", "thickness", "3", Codes.PlanValue)]
    [InlineData("/machines/default", "name", "nobody", Codes.ProfileMissing)]
    [InlineData("/machines/default", "name", "/etc/passwd", Codes.ProfileMissing)]
    [InlineData("/machines/units", "unit", "furlongs", Codes.PlanValue)]
    public async Task What_the_command_line_refuses_is_refused_here(string path, string field, string value, string code)
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Contains(code, await Keep(page, path, (field, value)), StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(page.Folder, "profiles")));
    }

    [Fact]
    public async Task Half_of_a_marking_setting_is_refused()
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Contains("Give “Power of markers and labels” and “Speed of markers and labels” together.",
            await Keep(page, "/machines/material", ("name", "birch"), ("mark-power", "50")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_dangerous_material_is_told_as_soon_as_it_is_kept()
    {
        await using ServedPage page = await ServedPage.Start();
        await Keep(page, "/machines/material", ("name", "PVC sheet"));
        IHtmlDocument list = await page.Page("/machines");
        Assert.Contains("hydrogen chloride", list.QuerySelector(".change")!.TextContent, StringComparison.Ordinal);
    }

    /// <summary>A name is a profile's, never a file's.</summary>
    [Theory]
    [InlineData("../../escape")]
    [InlineData("/tmp/escape.json")]
    [InlineData("a\\b:c*?<>|")]
    public async Task No_name_leads_out_of_the_folder(string name)
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Equal("/machines", await Keep(page, "/machines/material", ("name", name)));
        string folder = Path.Combine(page.Folder, "profiles", "materials");
        Assert.Equal(folder, Path.GetDirectoryName(Assert.Single(
            Directory.EnumerateFiles(page.Folder, "*.json", SearchOption.AllDirectories))));
        using HttpResponseMessage form = await page.Client.GetAsync(page.At($"/machines/material?name={Uri.EscapeDataString(name)}"));
        Assert.Equal(HttpStatusCode.OK, form.StatusCode);
    }

    [Fact]
    public async Task A_profile_of_another_folder_is_not_looked_at()
    {
        await using ServedPage page = await ServedPage.Start();
        string elsewhere = Path.Combine(page.Folder, "elsewhere");
        string file = new Profiles(elsewhere).Save(new Machine { Name = "secret", RatedOpticalWatts = 40 }, mayReplace: false).Value;
        using HttpResponseMessage form = await page.Client.GetAsync(page.At($"/machines/machine?name={Uri.EscapeDataString(file)}"));
        Assert.Equal(HttpStatusCode.NotFound, form.StatusCode);
        Assert.DoesNotContain("40 W", await page.Text(
            $"{MakePage.FollowPath}?machine={Uri.EscapeDataString(file)}&material=birch"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_cards_of_a_machine_stand_in_their_order_and_what_was_done_to_it_is_noted_and_taken_back()
    {
        await using ServedPage none = await ServedPage.Start();
        Assert.Contains("No card was read yet", await none.Text(ChangesPage.Path), StringComparison.Ordinal);
        await using ServedPage page = await ServedPage.WithRead(["photos/birch-engrave.plan.json"], "photos/birch-engrave.jpg");

        IHtmlDocument before = await page.Page(ChangesPage.Path);
        string machine = before.QuerySelector("#machine option")!.GetAttribute("value")!;
        Assert.Contains("7 more cards", before.Body!.TextContent, StringComparison.Ordinal);
        Assert.Equal(ChangesPage.Path, await Keep(page, ChangesPage.Path, ("machine", machine), ("changed", "cleaned <b>the lens</b>")));
        IHtmlDocument noted = await page.Page(ChangesPage.Path);
        Assert.Contains("cleaned <b>the lens</b> [m1]", noted.QuerySelector("ul.phones li")!.TextContent, StringComparison.Ordinal);

        Assert.Contains("empty or too long", await Keep(page, ChangesPage.Path, ("machine", machine)), StringComparison.Ordinal);
        Assert.Equal(ChangesPage.Path, await Keep(page, $"{ChangesPage.Path}/m1/back"));
        Assert.Contains("is called", await Keep(page, $"{ChangesPage.Path}/m1/back"), StringComparison.Ordinal);
        Assert.Null((await page.Page(ChangesPage.Path)).QuerySelector("ul.phones li"));
    }

    [Fact]
    public async Task A_new_module_has_its_first_cards_made_from_the_settings_of_the_old_one()
    {
        await using ServedPage none = await ServedPage.Start();
        Assert.Null((await none.Page(CarryPage.Path)).QuerySelector("main form"));
        await using ServedPage page = await ServedPage.WithRead(["photos/birch-engrave.plan.json"], "photos/birch-engrave.jpg");
        await Keep(page, "/machines/machine", ("name", "new module"), ("watts", "20"), ("wavelength", "455"), ("fastest-feed", "10000"));

        IHtmlDocument ask = await page.Page(CarryPage.Path);
        string from = ask.QuerySelector("#from option")!.GetAttribute("value")!;
        Assert.Equal("new module", ask.QuerySelector("#to option[selected]")!.GetAttribute("value"));
        IHtmlDocument carried = await page.Page($"{CarryPage.Path}?from={Uri.EscapeDataString(from)}&to=new+module");

        string said = carried.Body!.TextContent;
        Assert.Contains("No material was burned on both machines yet", said, StringComparison.Ordinal);
        Assert.Contains("Fastest full mark: try", said, StringComparison.Ordinal);
        Assert.Contains("Nothing below was burned on the new machine", said, StringComparison.Ordinal);
        Assert.Contains("Stay beside the machine", said, StringComparison.Ordinal);
        Assert.Contains("carry-same", await page.Text(
            $"{CarryPage.Path}/list?from={Uri.EscapeDataString(from)}&to={Uri.EscapeDataString(from)}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_damaged_profile_is_told_among_the_others()
    {
        await using ServedPage page = await ServedPage.Start();
        await Keep(page, "/machines/machine", ("name", "bench diode"), ("watts", "10"));
        File.WriteAllText(Path.Combine(page.Folder, "profiles", "machines", "broken.json"), "{ no");
        IHtmlDocument list = await page.Page("/machines");
        Assert.Single(list.QuerySelectorAll(".refusal"));
        Assert.Contains("bench diode", list.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("bench diode", await page.Text(MakePage.Path), StringComparison.Ordinal);
    }
}
