using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;

namespace CardScan.Fuzz;

/// <summary>What damaged copies of the photos that ship with CardScan lead to.</summary>
internal sealed class DamageStudy
{
    /// <summary>
    /// A full mark under this share of the strongest, in the sound reading, is a wrong setting; and how far the worse ones go.
    /// </summary>
    private const double LeastShare = 0.95, Worse = 0.93, Worst = 0.9;

    private static readonly string[] Photos = ["birch-engrave", "coated-metal-engrave", "birch-second", "lime-cut-left", "lime-cut-right"];

    private readonly Sound[] _sound = [.. Photos.Select(Sound.Of)];
    private readonly Lock _counting = new();
    private readonly List<double> _wrongShares = [];
    private int _refused, _same, _right, _none, _wrongCuts;

    /// <summary>Number of wrong settings.</summary>
    public int Wrong => _wrongShares.Count + _wrongCuts;

    /// <summary>Reads damaged copies, two at a time; the same for the same seed.</summary>
    public static DamageStudy Run(int copies, int seed)
    {
        DamageStudy study = new();
        Parallel.For(0, copies, new() { MaxDegreeOfParallelism = 2 },
            i => study.Judge(study._sound[i % Photos.Length], new Random(unchecked(seed * 1_000_003 + i))));
        return study;
    }

    public override string ToString() =>
        $"{_refused} refused, {_same} with the same setting, {_right} with another that is right, {_none} without one; "
        + $"wrong: {_wrongShares.Count} full marks "
        + $"({_wrongShares.Count(share => share < Worse)} under {Worse}, {_wrongShares.Count(share => share < Worst)} under {Worst}, "
        + $"worst {_wrongShares.DefaultIfEmpty(1).Min():F3}), {_wrongCuts} cuts";

    private void Judge(Sound sound, Random random)
    {
        Reading? reading = sound.Read(JpegDamage.Damaged(sound.Photo, random));
        CellAddress? found = reading is null ? null : sound.SettingOf(reading);
        lock (_counting)
        {
            if (reading is null) _refused++;
            else if (found is null) _none++;
            else if (found == sound.Setting) _same++;
            else if (sound.IsCut && sound.CellAt(found).Through != Opening.Through) _wrongCuts++;
            else if (!sound.IsCut && sound.ShareOf(found) < Math.Min(LeastShare, sound.ShareOf(sound.Setting!)))
                _wrongShares.Add(sound.ShareOf(found));
            else _right++;
        }
    }

    /// <summary>A photo as it ships, and what it tells.</summary>
    private sealed record Sound(byte[] Photo, PlanFile Plan, Reading Reading, CellAddress? Setting)
    {
        public bool IsCut => Plan.Plan.Process == Process.Cut;

        public static Sound Of(string name)
        {
            string plan = name.StartsWith("lime", StringComparison.Ordinal) ? "cut.plan.json" : $"{name}.plan.json";
            Sound sound = new(Targets.Seed($"{name}.jpg"), CardJson.ReadPlan(Targets.Seed(plan)).Value, null!, null);
            Reading reading = sound.Read(sound.Photo)!;
            return sound with { Reading = reading, Setting = sound.SettingOf(reading) };
        }

        public Reading? Read(byte[] photo)
        {
            Outcome<SeenCard> seen = OneCard.Read([new PhotoFile("photo", photo)], Plan, new VisionOptions());
            return seen.IsRefused ? null : CardScorer.Score(seen.Value.Reading, ScoringOptions.Default);
        }

        public CellAddress? SettingOf(Reading reading) =>
            reading.Recommendations.FirstOrDefault(one => one.Goal == (IsCut ? Goal.SureCut : Goal.FastestFullMark))?.Cell;

        public CellReading CellAt(CellAddress place) => Reading.Cells.First(cell => cell.Row == place.Row && cell.Column == place.Column);

        /// <summary>Strength of a mark over the strongest's.</summary>
        public double ShareOf(CellAddress place) =>
            Math.Abs(CellAt(place).Contrast!.Value)
            / Reading.Cells.Where(cell => cell.Contrast is not null && !cell.Flags.Any(CellFlag.IsDisqualifying))
                .Max(cell => Math.Abs(cell.Contrast!.Value));
    }
}
