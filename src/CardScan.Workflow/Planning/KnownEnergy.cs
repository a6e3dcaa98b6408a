using CardScan.Archive;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>What the archive's cards tell of the energy that a material needs on a machine.</summary>
internal static class KnownEnergy
{
    /// <summary>
    /// The energy of a cut grows with the thickness to this power (pine, H. McMillin, J. Harry, Forest Products Journal
    /// 21(10) 1971: 1.38 over 6 to 25 mm; less where it is thin).
    /// </summary>
    private const double Growth = 1.3;

    /// <summary>Factors of one standard deviation (chosen here): the same material, another thickness of it, and a like material.</summary>
    private const double OfSame = 1.25, OfOtherThickness = 1.6, OfLike = 1.9;

    /// <summary>The best that is known: the same material and thickness, the same material, a like one; of several the newest.</summary>
    /// <returns>Null where the archive has none, or cannot be used: the table of starting energies stands in.</returns>
    public static StartingEnergy? Find(ArchivePlace place, Material material, Machine machine, Process process)
    {
        Outcome<ValueList<StartingEnergy>> found =
            place.Use<ValueList<StartingEnergy>>(archive => Told(archive, material, machine, process));
        return found.IsRefused || found.Value.Count == 0 ? null : found.Value.MinBy(energy => energy.Factor);
    }

    private static Outcome<ValueList<StartingEnergy>> Told(CardArchive archive, Material material, Machine machine, Process process)
    {
        Outcome<ValueList<KeptSetting>> settings = archive.Settings(new() { Machine = machine.Name, Process = process });
        if (settings.IsRefused) return settings.Refusal!;
        string goal = process == Process.Cut ? Goal.SureCut : Goal.FastestFullMark;
        return settings.Value.Where(setting => setting.Recommendation.Goal == goal && MakerName.AreSame(setting.Machine.Name, machine.Name))
            .OrderByDescending(setting => setting.ReadUtc)
            .Select(setting => Of(archive, setting, material, machine, process)).OfType<StartingEnergy>().ToValueList();
    }

    private static StartingEnergy? Of(CardArchive archive, KeptSetting setting, Material material, Machine machine, Process process)
    {
        bool isSame = MakerName.AreSame(setting.Card.Material, material.Name);
        if (!isSame && !CardPlanner.AreLike(setting.Card.Material, material.Name)) return null;
        Outcome<Reading> reading = archive.Reading(setting.ReadingId);
        if (reading.IsRefused || reading.Value.Plan.Machine.RatedOpticalWatts != machine.RatedOpticalWatts) return null;

        RecommendationEntry recommended = setting.Recommendation;
        CellSettings cell = new()
        {
            PowerPercent = recommended.PowerPercent, SpeedMmPerMin = recommended.SpeedMmPerMin,
            Passes = recommended.Passes ?? 1, LineIntervalMm = recommended.LineIntervalMm,
        };
        if (cell.DoseOf(process, machine.RatedOpticalWatts) is not { } dose) return null;
        (double energy, bool isOtherThickness) = Scaled(dose.Value, setting.Card.ThicknessMm, material.ThicknessMm, process);
        return new(energy, isSame ? isOtherThickness ? OfOtherThickness : OfSame : OfLike,
            isSame ? StartBasis.SameMaterial : StartBasis.LikeMaterial, setting.ReadingName);
    }

    private static (double Energy, bool IsOtherThickness) Scaled(double energy, double? fromMm, double? toMm, Process process) =>
        process == Process.Cut && fromMm is { } from && toMm is { } to && Math.Abs(from - to) > 0.005
            ? (energy * Math.Pow(to / from, Growth), true)
            : (energy, false);
}
