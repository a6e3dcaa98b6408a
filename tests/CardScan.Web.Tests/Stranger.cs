using System.Text;
using System.Text.Json.Nodes;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>A maker of bundles who means no good: every text that a person can write holds markup.</summary>
internal static class Stranger
{
    /// <summary>Would run, load or lead away where it were taken for markup.</summary>
    public const string Markup =
        "\"'><script>alert(1)</script><img src=http://evil.example/x onerror=alert(2)>"
        + "<a href=javascript:alert(3)>x</a><style>*{display:none}</style>";

    /// <summary>A plan of the birch card with markup in every text.</summary>
    public static byte[] Plan()
    {
        JsonObject plan = JsonNode.Parse(File.ReadAllBytes(ServedPage.Data("photos/birch-engrave.plan.json")))!.AsObject();
        plan["title"] = $"title {Markup}";
        plan["material"]!["name"] = $"birch {Markup}";
        plan["material"]!["batch"] = $"batch {Markup}";
        plan["material"]!["notes"] = $"notes {Markup}";
        plan["machine"]!["name"] = $"machine {Markup}";
        return Encoding.UTF8.GetBytes(plan.ToJsonString());
    }

    /// <summary>A bundle with one card, its reading, notes and tags.</summary>
    /// <param name="folder">Where it is made.</param>
    public static byte[] Bundle(string folder)
    {
        string plan = Path.Combine(folder, "plan.json"), photo = ServedPage.Data("photos/birch-engrave.jpg");
        File.WriteAllBytes(plan, Plan());
        Reading reading = ReadCards.Run(new() { Photos = [photo], Plans = [plan] }).Value.Cards[0].Reading;
        using CardArchive archive = CardArchive.Open(Path.Combine(folder, "strangers"), TimeProvider.System).Value;
        KeptReading kept = archive.KeepReading(new()
        {
            PlanJson = File.ReadAllBytes(plan),
            Reading = reading with { Photos = [reading.Photos[0] with { File = $"{Markup}.jpg" }] },
            Photos = [File.ReadAllBytes(photo)],
            Report = Encoding.UTF8.GetBytes(Report()),
        }).Value;
        ArchiveSubject subject = archive.Resolve(kept.Name).Value;
        Assert.False(archive.AddNote(subject, $"note {Markup}").IsRefused);
        archive.Tag(subject, ["<b>bold</b>"]);
        string bundle = Path.Combine(folder, "bundle.zip");
        Assert.False(archive.ExportBundle(new(), bundle).IsRefused);
        return File.ReadAllBytes(bundle);
    }

    /// <summary>A report whose picture is none, and that would load and run what it can.</summary>
    private static string Report()
    {
        string picture = Convert.ToBase64String([0xFF, 0xD8, 0xFF, .. "<script>alert(4)</script>"u8]);
        return $"""
            <!DOCTYPE html [<!ENTITY x SYSTEM "file:///etc/passwd">]>
            <html><head><script>alert(5)</script><link rel="stylesheet" href="http://evil.example/x.css"/></head>
            <body><svg><image href="data:image/jpeg;base64,{picture}" x="0" y="0" width="10" height="10" onload="alert(6)"/></svg>
            <img src="http://evil.example/y.png"/></body></html>
            """;
    }
}
