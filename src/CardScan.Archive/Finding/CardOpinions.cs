using CardScan.Model;

namespace CardScan.Archive;

/// <summary>What other cards of the same material, thickness, machine and process say of a setting.</summary>
/// <param name="chosen">The setting.</param>
/// <param name="canTell">
/// False for a reading that has no setting for the goal because it could have none; null where only <see cref="Doubtful"/> is asked for.
/// </param>
internal sealed class CardOpinions(SettingRow chosen, Func<long, bool>? canTell)
{
    /// <summary>All that agree, newest first, and of each batch its newest card where that does not.</summary>
    /// <param name="others">The rows of the other cards, newest first.</param>
    public IEnumerable<OtherCard> Of(IEnumerable<SettingRow> others)
    {
        OtherCard[] opinions = [.. others.GroupBy(row => row.CardId).Select(OpinionOf).OfType<OtherCard>()];
        HashSet<string> heard = [];
        foreach (OtherCard other in opinions)
        {
            if (other.Opinion == CardOpinion.Agrees)
            {
                heard.Add(BatchOf(other.Batch));
                yield return other;
            }
            else if (!heard.Contains(BatchOf(other.Batch)) && IsWorthHearing(other))
            {
                heard.Add(BatchOf(other.Batch));
                yield return other;
            }
        }
    }

    /// <summary>Readings of which it will be asked whether they can tell; of a batch more may follow.</summary>
    /// <param name="others">The rows of the other cards, newest first.</param>
    public IEnumerable<long> Doubtful(IEnumerable<SettingRow> others) => others.GroupBy(row => row.CardId).Select(OpinionOf)
        .OfType<OtherCard>().Where(IsDoubtful).DistinctBy(other => BatchOf(other.Batch)).Select(other => other.ReadingId);

    /// <summary>That an older card of the batch had no setting yet is why the newer one was burned.</summary>
    private bool IsWorthHearing(OtherCard other) => other.Opinion == CardOpinion.Differs
        || (IsDoubtful(other) && canTell!(other.ReadingId));

    private static bool IsDoubtful(OtherCard other) => other.Opinion == CardOpinion.FoundNone && (other.IsNewer || !other.IsSameBatch);

    /// <summary>A card that was burned in another way, say with twice the passes, has no opinion.</summary>
    private OtherCard? OpinionOf(IEnumerable<SettingRow> card)
    {
        SettingRow newest = card.FirstOrDefault(row => row.Goal == chosen.Goal) ?? card.First();
        bool isSure = newest.Goal == chosen.Goal && newest.IsSure;
        if (isSure && !IsAlike(newest)) return null;
        return new()
        {
            Number = newest.Number,
            Batch = newest.Batch,
            ReadingId = newest.ReadingId,
            ReadUtc = Database.Time(newest.Read),
            Opinion = !isSure ? CardOpinion.FoundNone : IsNear(newest) ? CardOpinion.Agrees : CardOpinion.Differs,
            IsNewer = string.CompareOrdinal(newest.Read, chosen.Read) > 0,
            IsSameBatch = BatchOf(newest.Batch) == BatchOf(chosen.Batch),
            Setting = isSure ? (newest.SpeedMmPerMin, newest.PowerPercent) : null,
        };
    }

    /// <summary>Air that a plan does not tell contradicts nothing, as where cards are scored together.</summary>
    private bool IsAlike(SettingRow other) => other.Passes == chosen.Passes && other.LineIntervalMm == chosen.LineIntervalMm
        && other.FocusOffsetMm == chosen.FocusOffsetMm
        && (other.AirIsOn is null || chosen.AirIsOn is null || other.AirIsOn == chosen.AirIsOn);

    /// <summary>Watts, passes and line interval are the same, so that energies compare as power over speed.</summary>
    private bool IsNear(SettingRow other)
    {
        double factor = other.PowerPercent / other.SpeedMmPerMin / (chosen.PowerPercent / chosen.SpeedMmPerMin);
        return factor is >= 1 / KeptSetting.AgreeingFactor and <= KeptSetting.AgreeingFactor;
    }

    private static string BatchOf(string? batch) => (batch ?? "").Trim().ToUpperInvariant();
}
