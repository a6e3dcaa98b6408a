namespace CardScan.Archive;

/// <summary>
/// Which readings of a card are current: one gives way to a later one that has all of its photos, the same or more. Two readings
/// that share photos and have others of their own stand side by side.
/// </summary>
internal sealed class Currency(Database database)
{
    /// <summary>True where reading "more" has all photos of reading "less".</summary>
    private const string HasAllPhotos =
        """
        more.card_id = less.card_id AND more.id <> less.id AND (more.photo_set_sha256 = less.photo_set_sha256
            OR (EXISTS (SELECT 1 FROM photo WHERE reading_id = less.id)
                AND NOT EXISTS (SELECT 1 FROM photo WHERE reading_id = less.id
                    AND photo_sha256 NOT IN (SELECT photo_sha256 FROM photo WHERE reading_id = more.id))))
        """;

    /// <summary>True where a later reading than this one, which came from elsewhere, has all of its photos.</summary>
    public bool HasLater(long id) => database.Count(
        $"""
        SELECT EXISTS (SELECT 1 FROM reading AS more JOIN reading AS less ON less.id = @id
            WHERE {HasAllPhotos} AND more.read_utc > less.read_utc)
        """, ("id", id)) == 1;

    /// <summary>Makes a reading current, and those that give way to it not.</summary>
    public void Give(long id)
    {
        database.Execute(
            $"""
            UPDATE reading SET is_current = 0 WHERE is_current = 1 AND id IN (
                SELECT less.id FROM reading AS less JOIN reading AS more ON more.id = @id WHERE {HasAllPhotos})
            """, ("id", id));
        database.Execute("UPDATE reading SET is_current = 1 WHERE id = @id AND is_current = 0", ("id", id));
    }

    /// <summary>Takes it from a reading that is to be removed: what gave way to it alone is current again.</summary>
    public void Take(long id)
    {
        database.Execute("UPDATE reading SET is_current = 0 WHERE id = @id", ("id", id));
        long[] waiting = [.. database.Query(
            $"""
            SELECT less.id FROM reading AS less JOIN reading AS more ON more.id = @id WHERE less.is_current = 0 AND {HasAllPhotos}
            ORDER BY (SELECT count(*) FROM photo WHERE reading_id = less.id) DESC, less.id DESC
            """, row => row.Long("id"), ("id", id))];
        foreach (long less in waiting)
        {
            database.Execute(
                $"""
                UPDATE reading SET is_current = 1 WHERE id = @less AND NOT EXISTS (
                    SELECT 1 FROM reading AS more JOIN reading AS less ON less.id = @less WHERE more.is_current = 1 AND {HasAllPhotos})
                """, ("less", less));
        }
    }
}
