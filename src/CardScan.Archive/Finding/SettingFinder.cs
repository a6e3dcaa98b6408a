using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// For every material, thickness, machine and process the newest setting for each goal, and what the other cards say of it.
/// </summary>
internal sealed class SettingFinder(Database database)
{
    /// <summary>Sheets that are sold as one thickness differ by so much, as a share (chosen here): 2.7 to 3.3 mm is found by 3.</summary>
    private const double NearThickness = 0.1;

    private readonly CardFinder _cards = new(database);
    private readonly ReadingFinder _readings = new(database, files: null);
    private readonly Dictionary<long, bool> _canTell = [];

    /// <summary>The settings: what was read last comes first, and a machine's stand together.</summary>
    public ValueList<KeptSetting> Find(ArchiveQuery query)
    {
        List<SettingRow> rows = SettingRow.Of(database, query with { ThicknessMm = null });
        IEnumerable<SettingRow> near = MachineTraits.Complete(rows)
            .Where(row => DistanceOf(row, query.ThicknessMm) <= NearThickness * (query.ThicknessMm ?? 1));
        return near
            .GroupBy(row => (row.Roots, Thickness: Math.Round(row.ThicknessMm ?? -1, 2), row.Traits))
            .OrderBy(kind => DistanceOf(kind.First(), query.ThicknessMm) > CardFinder.ThicknessToleranceMm)
            .SelectMany(kind => kind.GroupBy(row => row.Process))
            .SelectMany(kind => Settings([.. kind])).ToValueList();
    }

    /// <summary>How far a material is from the thickness that was asked for, mm; its name may tell what its field does not.</summary>
    private static double DistanceOf(SettingRow row, double? askedMm) => askedMm is not { } asked ? 0
        : (row.ThicknessMm ?? NameKey.ThicknessMm(row.Material)) is { } mm ? Math.Abs(mm - asked)
        : double.PositiveInfinity;

    private IEnumerable<KeptSetting> Settings(SettingRow[] rows) => rows
        .Where(row => row.IsAsked && row.Goal is not null).DistinctBy(row => row.Goal)
        .Select(row => Setting(row, [.. rows.Where(other => other.CardId != row.CardId)]));

    private KeptSetting Setting(SettingRow row, SettingRow[] others)
    {
        OtherCard[] opinions = [.. new CardOpinions(row, CanTell).Of(others)];
        Advice? bridges = row.IsSure ? null : BridgesOf(row);
        CardEntry card = _cards.Card(row.CardId);
        Plan plan = CardJson.ReadPlan(new CardKeeper(database, TimeProvider.System).PlanJson(row.CardId)).Value.Plan;
        return new()
        {
            Card = card,
            Machine = plan.Machine with
            {
                Name = card.Machine, WavelengthNm = row.Traits.WavelengthNm, BeamXMm = row.Traits.BeamXMm, BeamYMm = row.Traits.BeamYMm,
            },
            Air = plan.Fixed.AirAssist,
            ReadingId = row.ReadingId,
            ReadUtc = Database.Time(row.Read),
            Recommendation = _readings.Recommendations(row.ReadingId).First(recommendation => recommendation.Goal == row.Goal),
            Standing = StandingOf(row, bridges, opinions),
            Bridges = bridges,
            Others = opinions.ToValueList(),
        };
    }

    private static SettingStanding StandingOf(SettingRow row, Advice? bridges, OtherCard[] opinions)
    {
        if (!row.IsSure) return bridges is null ? SettingStanding.Unsure : SettingStanding.Bridged;
        bool isOvertaken = opinions.Any(other => other is { Opinion: CardOpinion.FoundNone, IsNewer: true, IsSameBatch: true });
        return isOvertaken ? SettingStanding.Overtaken : SettingStanding.Sure;
    }

    private Advice? BridgesOf(SettingRow row) => ReadingOf(row.ReadingId) is { } reading
        && reading.Recommendations.FirstOrDefault(each => each.Goal == row.Goal) is { } recommendation
        && reading.IsHeldByBridges(recommendation)
            ? reading.Advice.First(advice => advice.Code == Codes.BridgedSides)
            : null;

    /// <summary>
    /// A focus ladder, or a cut card without light behind it, says nothing against a setting by having none. Every goal asks anew.
    /// </summary>
    private bool CanTell(long readingId)
    {
        if (_canTell.TryGetValue(readingId, out bool known)) return known;
        return _canTell[readingId] = ReadingOf(readingId) is { Plan.Kind: not CardKind.FocusLadder } reading
            && reading.Cells.Any(cell => reading.Plan.Process == Process.Cut ? cell.Sides is not null : cell.Darkness is not null);
    }

    private Reading? ReadingOf(long id) => CardJson.ReadReading(_readings.Json(id)) is { IsRefused: false } reading ? reading.Value : null;
}
