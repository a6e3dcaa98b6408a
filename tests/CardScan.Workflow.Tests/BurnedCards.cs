using System.Text;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow.Tests;

/// <summary>Small engraved cards of one material, with readings by a simple law, in files and in an archive.</summary>
internal sealed class BurnedCards : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    /// <summary>An archive that is made when something is kept in it.</summary>
    internal ArchivePlace Archive => new(Path.Combine(_folder, "archive"), Clock);

    /// <summary>The time that the archive is told.</summary>
    internal SettableClock Clock { get; } = new();

    internal string this[string name] => Path.Combine(_folder, name);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>A plan of four cells.</summary>
    internal static Plan Plan(int number, string batch = "B-1", double focusOffsetMm = 0) => CardPlanner.MakePlan(new()
    {
        Number = number,
        Material = new() { Name = "alder", ThicknessMm = 3, Batch = batch },
        Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
        Settings =
        [
            SettingRange.Parse(Setting.PowerPercent, "40,80").Value, SettingRange.Parse(Setting.SpeedMmPerMin, "1000,2000").Value,
            new(Setting.FocusOffsetMm, [focusOffsetMm]),
        ],
    }).Value;

    /// <summary>A reading of a plan's card.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="shade">What tells one reading of the card from another.</param>
    internal static Reading Reading(Plan plan, double shade = 0) => new()
    {
        Format = Model.Reading.CurrentFormat,
        Plan = plan,
        PlanSha256 = CardJson.Sha256(Json(plan)),
        Cells = plan.Cells.Select(cell =>
        {
            CellSettings settings = plan.SettingsOf(cell);
            return new CellReading
            {
                Row = cell.Row,
                Column = cell.Column,
                Settings = settings,
                Darkness = new(0.2 + shade + settings.PowerPercent / settings.SpeedMmPerMin, 0.01)
            };
        }).ToValueList(),
    };

    /// <summary>A reading of five powers by some speeds, by a law that rises and levels off.</summary>
    internal static Reading Large(int number, double[] speedsMmPerMin)
    {
        Plan plan = CardPlanner.MakePlan(new()
        {
            Number = number,
            Material = new() { Name = "alder", ThicknessMm = 3 },
            Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
            Settings =
                [SettingRange.Parse(Setting.PowerPercent, "20:100:5").Value, new(Setting.SpeedMmPerMin, speedsMmPerMin.ToValueList())],
        }).Value;
        Reading reading = Reading(plan);
        return reading with
        {
            Cells = reading.Cells.Select((cell, i) =>
            {
                double dose = plan.DoseOf(cell.Settings)!.Value;
                // Chance of a hundredth of a density, the same each time.
                double strength = 0.8 * (1 - Math.Exp(-dose)), chance = 0.01 * Math.Sin(7 * i + number);
                return cell with { Darkness = new(-Math.Log10(1 - strength) + chance, 0.01) };
            }).ToValueList(),
        };
    }

    /// <summary>Keeps a card in the archive and leaves a picture of it under its number.</summary>
    internal void Draw(int number)
    {
        Plan plan = Plan(number);
        using OpenCvSharp.Mat
            drawn = RenderedCard.ByLibrary(RenderedCard.Black(CardPlanner.DrawSvg(plan)), pxPerMm: 15, burned: 60, bare: 190),
            picture = RenderedCard.Turned(drawn, out _);
        File.WriteAllBytes(this[$"{number}.png"], picture.ToBytes());
        Assert.False(Archive.Use(archive => archive.KeepCard(Json(plan)), mayMake: true).IsRefused);
    }

    /// <summary>Writes a reading into a file.</summary>
    internal string Write(string name, Reading reading)
    {
        File.WriteAllText(this[name], CardJson.Write(reading));
        return this[name];
    }

    /// <summary>Keeps a reading in the archive, a day after the one before.</summary>
    /// <returns>Its name there.</returns>
    internal string Keep(Reading reading)
    {
        Clock.Now = Clock.Now.AddDays(1);
        return Archive.Use(archive => archive.KeepReading(new() { PlanJson = Json(reading.Plan), Reading = reading }),
            mayMake: true).Value.Name;
    }

    private static byte[] Json(Plan plan) => Encoding.UTF8.GetBytes(CardJson.Write(plan));
}

/// <summary>A clock that stands until it is moved.</summary>
internal sealed class SettableClock : TimeProvider
{
    internal DateTimeOffset Now { get; set; } = new(2026, 11, 1, 12, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Now;
}
