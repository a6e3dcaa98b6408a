using System.Net;
using CardScan.Model;

namespace CardScan.Web.Tests;

/// <summary>The demo card, for somebody who has none yet.</summary>
public class DemoTests
{
    [Fact]
    public async Task An_empty_archive_offers_the_demo_card_and_its_photo_goes_the_way_of_any_other()
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Equal("/demo", (await page.Page("/")).QuerySelector(".demo form")!.GetAttribute("action"));
        Assert.InRange((await page.Client.GetByteArrayAsync(page.At("/demo/small.jpg"))).Length, 1000, 40_000);
        using HttpResponseMessage answer = await page.Post("/demo");
        Assert.Equal("/photograph", answer.Headers.GetValues(Answer.GoHeader).Single());
        Assert.Contains("kept", Assert.Single(await page.Photos()).ClassList);
        Reading reading = page.Archive.Show("r1").Value.Reading!.Reading;
        Assert.NotEmpty(reading.Recommendations);
        Assert.Empty((await page.Page("/")).QuerySelectorAll(".demo"));
    }

    [Fact]
    public async Task It_is_kept_apart_from_cards_of_real_machines_and_materials()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage answer = await page.Post("/demo");
        await page.Photos();
        Plan plan = page.Archive.Show("r1").Value.Reading!.Reading.Plan;
        Assert.Equal("Demo card", plan.Title);
        Assert.Equal("birch plywood (demo)", plan.Material.Name);
        Assert.Equal("demo machine", plan.Machine.Name);
    }

    [Fact]
    public async Task Asked_for_many_times_at_once_it_is_there_once()
    {
        await using ServedPage page = await ServedPage.Start();
        foreach (HttpResponseMessage answer in await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => page.Post("/demo"))))
        {
            Assert.Equal(HttpStatusCode.NoContent, answer.StatusCode);
            answer.Dispose();
        }

        Assert.Single(await page.Photos());
        Assert.Equal(1, page.Archive.Find(new()).Value.Count);
        Assert.True(page.Archive.Show("r2").IsRefused);
    }

    [Fact]
    public async Task Among_cards_of_ones_own_it_is_not_put()
    {
        await using ServedPage page = await ServedPage.Start("cut/plan.json");
        Assert.Empty((await page.Page("/")).QuerySelectorAll(".demo"));
        using HttpResponseMessage answer = await page.Post("/demo");
        Assert.Equal(1, page.Archive.Find(new()).Value.Count);
        Assert.Empty(await page.Photos());
    }

    [Fact]
    public async Task Asking_for_its_address_does_nothing()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage answer = await page.Client.GetAsync(page.At("/demo"));
        Assert.False(answer.IsSuccessStatusCode);
        Assert.Equal(0, page.Archive.Find(new()).Value.Count);
    }
}
