using System.Text.Json;
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

    /// <summary>Where settings are limited: readings that are looked at for each; so many times more where they were too few.</summary>
    private const int ReadingsPerSetting = 4;

    /// <summary>So many cards are looked at without choosing.</summary>
    private const int ManyCards = 2000;

    private static readonly string s_cut = EnumName.Of(Process.Cut);

    private readonly CardFinder _cards = new(database);
    private readonly ReadingFinder _readings = new(database, files: null);
    private readonly Dictionary<long, bool> _canTell = [];

    /// <summary>The settings: what was read last comes first, and a machine's stand together.</summary>
    public ValueList<KeptSetting> Find(ArchiveQuery query)
    {
        ArchiveQuery ofAnyThickness = query with { ThicknessMm = null };
        List<SettingRow> rows = SettingRow.Of(database, ofAnyThickness, KindsOf(query, ofAnyThickness));
        IEnumerable<SettingRow> near = MachineTraits.Complete(rows).Where(row => IsNear(row.Material, row.ThicknessMm, query));
        return Whole([.. near
            .GroupBy(row => (row.Roots, Thickness: Math.Round(row.ThicknessMm ?? -1, 2), row.Traits))
            .OrderBy(kind => DistanceOf(kind.First().Material, kind.First().ThicknessMm, query) > CardFinder.ThicknessToleranceMm)
            .SelectMany(kind => kind.GroupBy(row => row.Process))
            .SelectMany(kind => Chosen([.. kind])).Take(query.Most)]);
    }

    /// <summary>
    /// Where the settings are limited, the materials and machines of the cards that were read last, as many as are needed: the cards of
    /// others are not looked at.
    /// </summary>
    private IReadOnlyList<(long Material, long Machine)> KindsOf(ArchiveQuery query, ArchiveQuery ofAnyThickness)
    {
        if (query.Most == int.MaxValue || _cards.Count(ofAnyThickness, ManyCards) < ManyCards)
            return SettingKind.All(database, ofAnyThickness);
        for (long readings = (long)ReadingsPerSetting * query.Most; readings < int.MaxValue; readings *= ReadingsPerSetting)
        {
            (List<SettingKind> newest, bool areAll) = SettingKind.Newest(database, ofAnyThickness, (int)readings);
            if (areAll) break;
            HashSet<SettingKind> kinds = [];
            int same = 0;
            foreach (SettingKind kind in newest.Where(kind => kind.Goal is not null && IsNear(kind.Name, kind.ThicknessMm, query)))
            {
                if (!kinds.Add(kind) || DistanceOf(kind.Name, kind.ThicknessMm, query) > CardFinder.ThicknessToleranceMm) continue;
                if (++same == query.Most) return [.. kinds.Select(each => (each.Material, each.Machine)).Distinct()];
            }
        }

        return SettingKind.All(database, ofAnyThickness);
    }

    private static bool IsNear(string material, double? thicknessMm, ArchiveQuery query) =>
        DistanceOf(material, thicknessMm, query) <= NearThickness * (query.ThicknessMm ?? 1);

    /// <summary>How far a material is from the thickness that was asked for, mm; its name may tell what its field does not.</summary>
    private static double DistanceOf(string material, double? thicknessMm, ArchiveQuery query) => query.ThicknessMm is not { } asked ? 0
        : (thicknessMm ?? NameKey.ThicknessMm(material)) is { } mm ? Math.Abs(mm - asked)
        : double.PositiveInfinity;

    private static IEnumerable<(SettingRow Row, SettingRow[] Others)> Chosen(SettingRow[] rows) => rows
        .Where(row => row.IsAsked && row.Goal is not null).DistinctBy(row => row.Goal)
        .Select(row => (row, rows.Where(other => other.CardId != row.CardId).ToArray()));

    /// <summary>What belongs to the settings is asked for when all are chosen, for all of them together.</summary>
    private ValueList<KeptSetting> Whole((SettingRow Row, SettingRow[] Others)[] chosen)
    {
        long[] ids = [.. chosen.Select(each => each.Row.CardId).Distinct()];
        Dictionary<long, CardEntry> cards = _cards.Cards(ids).ToDictionary(card => card.Id);
        Dictionary<long, Plan> plans = new CardKeeper(database, TimeProvider.System).Plans(ids);
        Hear(chosen);
        ILookup<long, RecommendationEntry> recommendations = _readings.Recommendations(chosen.Select(each => each.Row.ReadingId));
        return chosen.Select(each => Setting(
            each.Row, each.Others, cards[each.Row.CardId], plans[each.Row.CardId], recommendations[each.Row.ReadingId])).ToValueList();
    }

    private KeptSetting Setting(
        SettingRow row, SettingRow[] others, CardEntry card, Plan plan, IEnumerable<RecommendationEntry> recommendations)
    {
        OtherCard[] opinions = [.. new CardOpinions(row, CanTell).Of(others)];
        Advice? bridges = row.IsSure || row.Process != s_cut ? null : BridgesOf(row);
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
            Recommendation = recommendations.First(recommendation => recommendation.Goal == row.Goal),
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
        if (!_canTell.ContainsKey(readingId)) Hear([readingId]);
        return _canTell[readingId];
    }

    /// <summary>Of every batch the card that is asked first what it can tell, all at once.</summary>
    private void Hear((SettingRow Row, SettingRow[] Others)[] chosen) => Hear(
        [.. chosen.SelectMany(each => new CardOpinions(each.Row, canTell: null).Doubtful(each.Others)).Distinct()]);

    private void Hear(long[] readings)
    {
        List<(long Id, bool CanTell)> told = database.Query(
            $"""
            SELECT reading.id, card.plan, EXISTS (SELECT 1 FROM cell WHERE cell.reading_id = reading.id
                AND CASE card.process WHEN 'cut' THEN cell.left_state IS NOT NULL ELSE cell.darkness IS NOT NULL END) AS is_measured
            FROM reading JOIN card ON card.id = reading.card_id WHERE reading.id IN ({string.Join(", ", readings.Prepend(0))})
            """, row => (row.Long("id"), row.Flag("is_measured") && !IsLadder(Packed.Open(row.Bytes("plan")))));
        foreach ((long id, bool canTell) in told) _canTell[id] = canTell;
    }

    /// <summary>The plan's other parts need not be understood for this.</summary>
    private static bool IsLadder(byte[] plan)
    {
        using JsonDocument json = JsonDocument.Parse(plan);
        return json.RootElement.TryGetProperty("kind", out JsonElement kind) && kind.ValueEquals(EnumName.Of(CardKind.FocusLadder));
    }

    private Reading? ReadingOf(long id) => CardJson.ReadReading(_readings.Json(id)) is { IsRefused: false } reading ? reading.Value : null;
}
