using System.Data;
using System.Data.Common;
using System.Globalization;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// The database of an archive, of the current schema: SQLite for one computer, PostgreSQL for many. What the two do differently
/// stands here; every other statement is one that both understand.
/// </summary>
internal abstract class Database : IDisposable
{
    /// <summary>The open connection.</summary>
    public abstract DbConnection Connection { get; }

    /// <summary>Why nothing can be changed; null where it can.</summary>
    public virtual Refusal? Unchangeable => null;

    /// <summary>Does work as one: all of it is kept, or, where it is refused or fails, nothing. Waits for other writers first.</summary>
    public Outcome<T> Write<T>(Func<Outcome<T>> work)
    {
        if (Unchangeable is { } refusal) return refusal;
        using DbTransaction transaction = BeginWriting();
        Outcome<T> outcome = work();
        if (!outcome.IsRefused) transaction.Commit();
        return outcome;
    }

    /// <summary>Does work that only reads on the database as it is now, whatever other processes change meanwhile.</summary>
    public Outcome<T> Look<T>(Func<Outcome<T>> work)
    {
        using DbTransaction snapshot = BeginReading();
        return work();
    }

    /// <summary>What work would give; what it changes is taken back.</summary>
    public virtual T Tried<T>(Func<T> work)
    {
        using DbTransaction transaction = BeginWriting();
        return work();
    }

    /// <summary>A value as this database takes it.</summary>
    public virtual object? Stored(object? value) => value;

    /// <summary>The condition that a card has the parameter "words" among its own.</summary>
    public abstract string HasWords { get; }

    /// <summary>The value that the parameter "words" has in the index.</summary>
    public abstract string IndexedWords { get; }

    /// <summary>Words for <see cref="IndexedWords"/>.</summary>
    public abstract string WordsToIndex(string words);

    /// <summary>A search for cards that have every word of a text, each as a beginning; null where it holds no word.</summary>
    public abstract string? WordsAsked(string? text);

    /// <summary>What is wrong with the database itself, in its own words.</summary>
    public abstract IReadOnlyList<string> Faults();

    /// <summary>Rows that refer to others which are not there, in words for people.</summary>
    public abstract IReadOnlyList<string> LostReferences();

    /// <summary>Makes every index anew. Inside a transaction of its caller.</summary>
    public abstract void MakeIndexesAnew();

    /// <summary>New rows of a table get ids after this one. Inside a transaction of its caller.</summary>
    public abstract void CountIdsOnFrom(string table, long last);

    /// <summary>A time as it is stored: UTC, ISO 8601, to the millisecond.</summary>
    public const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    /// <summary>A time in <see cref="TimeFormat"/>.</summary>
    public static string Text(DateTimeOffset time) => time.UtcDateTime.ToString(TimeFormat, CultureInfo.InvariantCulture);

    /// <summary>A stored time.</summary>
    /// <exception cref="InvalidDataException">It is none.</exception>
    public static DateTimeOffset Time(string text) =>
        TryTime(text, out DateTimeOffset time) ? time : throw new InvalidDataException($"\"{text}\" is no stored time");

    /// <summary>A time in <see cref="TimeFormat"/>, if it is one.</summary>
    public static bool TryTime(string text, out DateTimeOffset time) =>
        DateTimeOffset.TryParseExact(
            text, TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out time);

    /// <inheritdoc/>
    public abstract void Dispose();

    /// <summary>Waits until no other process writes.</summary>
    protected abstract DbTransaction BeginWriting();

    /// <summary>Everything that is read in it is of one moment.</summary>
    protected abstract DbTransaction BeginReading();

    /// <summary>The words of a text as they were typed, those without a letter or digit left out.</summary>
    protected static string[] WordsOf(string? text) =>
        // A NUL would end a text for either database.
        [.. (text ?? "").Replace('\0', ' ').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
            .Where(word => word.Any(char.IsLetterOrDigit))];
}
