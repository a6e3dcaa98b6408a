using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Who did what, written in the transaction in which it is done.</summary>
/// <param name="database">The database.</param>
/// <param name="clock">Tells when.</param>
/// <param name="by">Who does it; null where the archive is somebody's own, and nothing is written.</param>
internal sealed class DeedBook(Database database, TimeProvider clock, Actor? by)
{
    /// <summary>Writes one down.</summary>
    /// <param name="what">What was done.</param>
    /// <param name="subject">What it was done to, as people call it.</param>
    /// <param name="cardId">The card that it is about; null for anything else.</param>
    public void Write(DeedKind what, string subject = "", long? cardId = null)
    {
        if (by is null) return;
        database.Execute(
            """
            INSERT INTO deed (done_utc, name, member_id, what, subject, card_id) VALUES (@now, @name, @member, @what, @subject, @card)
            """,
            ("now", Database.Text(clock.GetUtcNow())), ("name", by.Name), ("member", by.MemberId), ("what", EnumName.Of(what)),
            ("subject", subject), ("card", cardId));
    }

    /// <summary>The newest first.</summary>
    /// <param name="cardId">Only those about a card; null for all.</param>
    /// <param name="most">How many are given at most.</param>
    public ValueList<Deed> Newest(long? cardId, int most) => database.Query(
        $"SELECT * FROM deed {(cardId is null ? "" : "WHERE card_id = @card")} ORDER BY id DESC LIMIT @most", DeedOf,
        ("card", cardId), ("most", (long)most)).ToValueList();

    /// <summary>The last of a kind; null where there was none.</summary>
    public Deed? Last(DeedKind kind) => database.Query(
        "SELECT * FROM deed WHERE what = @what ORDER BY id DESC LIMIT 1", DeedOf, ("what", EnumName.Of(kind))).SingleOrDefault();

    /// <summary>The member who kept a card; null where it was somebody else, or nobody knows.</summary>
    public long? MemberWhoKept(long cardId) => database.Query(
        "SELECT member_id FROM deed WHERE card_id = @card AND what = @what ORDER BY id LIMIT 1", row => row.LongOrNull("member_id"),
        ("card", cardId), ("what", EnumName.Of(DeedKind.CardKept))) is [var member] ? member : null;

    private static Deed DeedOf(StoredRow row) => new(
        row.Long("id"), Database.Time(row.Text("done_utc")), new(row.Text("name"), row.LongOrNull("member_id")),
        StoredValue.Value<DeedKind>(row.Text("what")), row.Text("subject"), row.LongOrNull("card_id"));
}
