using System.Text;
using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>What the demonstration of a workshop left.</summary>
/// <param name="Settings">Its settings.</param>
/// <param name="Carried">The settings of its old module, carried over to the new one.</param>
/// <param name="Archive">Its archive, for whoever wants to look further.</param>
/// <param name="Sheet">Path of the sheet for the wall.</param>
public sealed record DemoWorkshopResult(SettingsBook Settings, CarriedBook Carried, ArchivePlace Archive, string Sheet);

/// <summary>
/// An invented workshop that has replaced its 5 W module by one of 12 W: the readings of its cards ship with CardScan, and are scored
/// and kept as any other.
/// </summary>
public static class DemoWorkshop
{
    /// <summary>Folder of its readings beside the program.</summary>
    public const string FixtureFolder = "demo-workshop";

    private const string OldMachine = "old module", NewMachine = "new module", SheetName = "settings.pdf";

    /// <summary>Keeps the readings, looks up the settings, and carries those of the old module over.</summary>
    /// <param name="fixtures">Folder that holds <see cref="FixtureFolder"/>.</param>
    /// <param name="outputFolder">Folder for the results.</param>
    /// <param name="clock">Tells when something is kept.</param>
    public static Outcome<DemoWorkshopResult> Run(string fixtures, string outputFolder, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(clock);
        ArchivePlace archive = new(Path.Combine(outputFolder, "workshop"), clock);
        foreach (string file in Directory.GetFiles(Path.Combine(fixtures, FixtureFolder), "*.json").Order(StringComparer.Ordinal))
            if (Keep(file, archive) is { } refusal) return refusal;

        Outcome<SettingsBook> settings = SettingsBook.Of(archive, new());
        if (settings.IsRefused) return settings.Refusal!;
        string sheet = Path.Combine(outputFolder, SheetName);
        DateOnly today = DateOnly.FromDateTime(clock.GetLocalNow().DateTime);
        if (settings.Value.WriteSheet(sheet, today, Paper.A4) is { } unwritten) return unwritten;
        Profiles none = new(Path.Combine(archive.Folder, "profiles"));
        Outcome<CarriedBook> carried = CarriedBook.Of(archive, none, OldMachine, NewMachine);
        return carried.IsRefused ? carried.Refusal! : new DemoWorkshopResult(settings.Value, carried.Value, archive, sheet);
    }

    private static Refusal? Keep(string file, ArchivePlace archive)
    {
        Outcome<byte[]> bytes = InputFile.ReadBytes(file, "reading");
        if (bytes.IsRefused) return bytes.Refusal;
        Outcome<Reading> reading = CardJson.ReadReading(bytes.Value);
        if (reading.IsRefused) return reading.Refusal;
        byte[] plan = Encoding.UTF8.GetBytes(CardJson.Write(reading.Value.Plan));
        ReadingToKeep scored = new()
        {
            PlanJson = plan,
            Reading = CardScorer.Score(reading.Value with { PlanSha256 = CardJson.Sha256(plan) }, ScoringOptions.Default),
        };
        return archive.Use(opened => opened.KeepReading(scored), mayMake: true).Refusal;
    }
}
