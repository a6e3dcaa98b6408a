using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Scoring.Carrying;
using CardScan.Scoring.Comparing;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>A setting of the old machine with what it becomes on the new one.</summary>
/// <param name="From">The setting of the old machine.</param>
/// <param name="Setting">What to try on the new one.</param>
public sealed record CarriedRow(KeptSetting From, CarriedSetting Setting);

/// <summary>A material that is left out, and why.</summary>
/// <param name="Material">The material.</param>
/// <param name="Why">
/// A branch of the sentence: "shape" or "unclear" where it was burned on both machines and tells nothing of the others, "lines" where it is
/// not carried over because the lines of its setting would not touch on the new machine.
/// </param>
/// <param name="LineIntervalMm">Their interval, mm; null of the others.</param>
public sealed record LeftOutMaterial(string Material, string Why, double? LineIntervalMm = null);

/// <summary>What one process of the new machine is carried over by.</summary>
/// <param name="Process">Engrave or cut: they are judged apart.</param>
/// <param name="Factor">The energy that another material needs on the new machine, over that on the old one; median, 95 % interval.</param>
/// <param name="BurnedOnBoth">The materials that tell it.</param>
/// <param name="Odd">Materials burned on both that behave unlike those; left out.</param>
/// <param name="LeftOut">Materials burned on both that could not be compared, and those that cannot be carried over.</param>
/// <param name="Rows">The settings that are carried over, the material read last first.</param>
/// <param name="First">Those of the rows whose cards would narrow the rest most, the best first.</param>
/// <param name="AfterOneMore">The factor after one more card that comes out as expected.</param>
public sealed record CarriedProcess(
    Process Process, Interval Factor, ValueList<string> BurnedOnBoth, ValueList<string> Odd, ValueList<LeftOutMaterial> LeftOut,
    ValueList<CarriedRow> Rows, ValueList<CarriedRow> First, Interval AfterOneMore);

/// <summary>The settings of one machine, carried over to another (docs/method/carrying.md).</summary>
/// <param name="From">The machine that they were burned on.</param>
/// <param name="To">The machine that they are for.</param>
/// <param name="Processes">What is known for engraving and for cutting, where the old machine has settings of it.</param>
public sealed record CarriedBook(Machine From, Machine To, ValueList<CarriedProcess> Processes)
{
    /// <summary>Wavelengths that differ by a larger factor are absorbed differently by each material: nothing is carried over.</summary>
    private const double MostWavelengthRatio = 1.15;

    private const int MostFirst = 3;

    /// <summary>Error that a small card usually leaves of ln of the factor (chosen here: what cards of the demo leave).</summary>
    private const double UsualCardError = 0.06;

    /// <summary>True where a wavelength is not known, so that it is for the maker to know that both are of one kind.</summary>
    public bool IsWavelengthUnknown => From.WavelengthNm is null || To.WavelengthNm is null;

    /// <summary>Carries over what the archive has.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="profiles">Has a new machine that no card was burned on.</param>
    /// <param name="from">The old machine: its name, or its name with what tells it from others of that name.</param>
    /// <param name="to">The new one.</param>
    public static Outcome<CarriedBook> Of(ArchivePlace place, Profiles profiles, string from, string to)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(profiles);
        return place.Use<CarriedBook>(archive =>
        {
            Outcome<ValueList<KeptSetting>> all = archive.Settings(new());
            if (all.IsRefused) return all.Refusal!;
            Outcome<Machine> old = MachineOf(all.Value, from, profiles: null);
            if (old.IsRefused) return old.Refusal!;
            Outcome<Machine> target = MachineOf(all.Value, to, profiles);
            if (target.IsRefused) return target.Refusal!;
            if (Obstacle(old.Value, target.Value) is { } obstacle) return obstacle;
            KeptSetting[] olds = [.. all.Value.Where(each => ArchiveNames.AreOne(each.Machine, old.Value))],
                news = [.. all.Value.Where(each => ArchiveNames.AreOne(each.Machine, target.Value))];
            List<CarriedProcess> processes = [];
            foreach (IGrouping<Process, KeptSetting> process in olds.Where(each => each.IsSetting).GroupBy(each => each.Card.Process))
            {
                Outcome<CarriedProcess> carried = Carry(archive, process.Key, [.. process], news, old.Value, target.Value);
                if (carried.IsRefused) return carried.Refusal!;
                processes.Add(carried.Value);
            }

            return processes.Count == 0
                ? Refusal.OfInput(Codes.CarryNothing, ("from", from))
                : new CarriedBook(old.Value, target.Value, processes.ToValueList());
        });
    }

    private static Outcome<CarriedProcess> Carry(
        CardArchive archive, Process process, KeptSetting[] olds, KeptSetting[] news, Machine from, Machine to)
    {
        List<BurnedOnBoth> both = [];
        List<LeftOutMaterial> leftOut = [];
        HashSet<KeptSetting> burned = [];
        foreach (IGrouping<string, KeptSetting> material in olds.GroupBy(each => KeyOf(each.Card)))
        {
            if (news.FirstOrDefault(each => each.Card.Process == process && KeyOf(each.Card) == material.Key) is not { } own) continue;
            burned.UnionWith(material);
            Outcome<Reading> first = archive.Reading(material.First().ReadingId), later = archive.Reading(own.ReadingId);
            if (first.IsRefused) return first.Refusal!;
            if (later.IsRefused) return later.Refusal!;
            string name = Voice.Tell(own.Card.MaterialFigure());
            (BurnedOnBoth? told, string why) = Compared(name, first.Value, later.Value);
            if (told is not null) both.Add(told);
            else leftOut.Add(new(name, why));
        }

        MachineShift shift = MachineShift.Of(both.ToValueList());
        List<CarriedRow> rows = [];
        foreach (KeptSetting old in olds.Where(each => !burned.Contains(each)))
        {
            if (LinesApart(old, from, to) is { } apart)
            {
                if (!leftOut.Contains(apart)) leftOut.Add(apart);
                continue;
            }

            Outcome<Reading> reading = archive.Reading(old.ReadingId);
            if (reading.IsRefused) return reading.Refusal!;
            rows.Add(new(old, SettingCarrier.Carry(SettingToCarry.Of(reading.Value, old.Recommendation), shift,
                to.RatedOpticalWatts / from.RatedOpticalWatts, to.FastestFeedMmPerMin)));
        }

        return new CarriedProcess(process, shift.Factor, Names(shift.Pooled), Names(shift.Odd), leftOut.ToValueList(), rows.ToValueList(),
            FirstOf(rows, both), shift.WithOneMore(UsualCardError).Factor);

        static ValueList<string> Names(ValueList<BurnedOnBoth> materials) => materials.Select(material => material.Name).ToValueList();
    }

    /// <summary>Materials unlike those that were burned and unlike each other tell most of what is common to all.</summary>
    private static ValueList<CarriedRow> FirstOf(List<CarriedRow> rows, List<BurnedOnBoth> both)
    {
        List<string> known = [.. both.Select(material => material.Name)];
        List<CarriedRow> first = [], left = [.. rows.DistinctBy(row => KeyOf(row.From.Card))];
        while (first.Count < MostFirst && left.Count > 1)
        {
            CarriedRow next = left.FirstOrDefault(row => !known.Any(name => CardPlanner.AreLike(row.From.Card.Material, name))) ?? left[0];
            first.Add(next);
            left.Remove(next);
            known.Add(next.From.Card.Material);
        }

        return first.ToValueList();
    }

    private static (BurnedOnBoth? Told, string Why) Compared(string name, Reading first, Reading later)
    {
        Outcome<Comparison> compared = CardComparer.Compare([new("old", first), new("new", later)], new());
        if (compared.IsRefused) return (null, "unclear");
        ComparedPair pair = compared.Value.Pairs[0];
        if ((HarderAxis.Compare(first, later) ?? pair.RelativeDose) is not { } dose)
            return (null, pair.Verdict == PairVerdict.OtherShape ? "shape" : "unclear");
        // Deliveries differ, and a card tells its own alone.
        bool isOneBatch = first.Plan.Material.Batch is { Length: > 0 } batch && later.Plan.Material.Batch is { } other
            && MakerName.AreSame(batch, other);
        return (BurnedOnBoth.Of(name, dose, isOneBatch), "");
    }

    /// <summary>Lines run along x: where the new beam is narrower across them, bare stripes stay, of which no factor knows.</summary>
    private static LeftOutMaterial? LinesApart(KeptSetting old, Machine from, Machine to) =>
        old.Recommendation.LineIntervalMm is { } interval && old.Card.Process == Process.Engrave
            && to.BeamYMm < interval && !(from.BeamYMm < interval)
            ? new(Voice.Tell(old.Card.MaterialFigure()), "lines", interval)
            : null;

    private static Refusal? Obstacle(Machine from, Machine to)
    {
        if (ArchiveNames.AreOne(from, to)) return Refusal.OfInput(Codes.CarrySame, ("name", from.Name));
        return from.WavelengthNm is { } one && to.WavelengthNm is { } other && Math.Max(one / other, other / one) > MostWavelengthRatio
            ? Refusal.OfInput(Codes.CarryWavelength, ("from", In(Unit.Nm, one)), ("to", In(Unit.Nm, other)))
            : null;
    }

    private static Outcome<Machine> MachineOf(ValueList<KeptSetting> all, string name, Profiles? profiles)
    {
        KeptSetting[] machines = [.. all.DistinctBy(each => Voice.Tell(each.MachineFigure()))];
        KeptSetting[] found = ArchiveNames.Named(machines, each => each.Machine, name);
        if (found.Length == 1) return found[0].Machine;
        if (found.Length > 1) return Refusal.OfInput(Codes.CarrySeveral, ("name", name), ("machines", Listed(found)));
        if (profiles?.FindMachine(name) is { } profile && (profile.IsRefused || profile.Value is not null))
            return profile.IsRefused ? profile.Refusal! : profile.Value!.Content;
        return Refusal.OfInput(Codes.CarryUnknown, ("name", name), ("role", profiles is null ? "old" : "new"),
            ("machines", Listed(machines)), ("count", machines.Length));

        static Listing Listed(KeptSetting[] machines) => List(machines.Select(each => (Figure)each.MachineFigure()));
    }

    private static string KeyOf(CardEntry card) => ArchiveNames.KeyOf(card.Material, card.ThicknessMm);
}
