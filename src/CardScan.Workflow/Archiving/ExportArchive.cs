using System.Text;
using System.Text.Json;
using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Workflow;

/// <summary>Cards of the archive in a file: a bundle that another archive takes in, or a table or JSON for other programs.</summary>
public static class ExportArchive
{
    /// <summary>
    /// Writes the file; its name's ending says what it is: <c>.zip</c> a bundle, <c>.csv</c> a table of the cells,
    /// <c>.json</c> the readings.
    /// </summary>
    /// <param name="place">The archive.</param>
    /// <param name="query">Which cards. The table and JSON have their current readings, the bundle has all.</param>
    /// <param name="path">The file; one that is there is not replaced.</param>
    /// <returns>How many cards and readings it holds.</returns>
    public static Outcome<BundlePart> Run(ArchivePlace place, ArchiveQuery query, string path)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(path);
        string ending = Path.GetExtension(path).ToLowerInvariant();
        if (ending is not (".zip" or ".csv" or ".json"))
            return Refusal.OfInput(Codes.ExportEnding, ("file", path));
        if (Path.Exists(path)) return Refusal.OfInput(Codes.ExportExists, ("file", path));
        return place.Use(archive =>
        {
            if (ending == ".zip") return archive.ExportBundle(query, path);
            return archive.Look<BundlePart>(() =>
            {
                Outcome<ValueList<long>> cards = archive.CardIds(query);
                return cards.IsRefused ? cards.Refusal! : Write(archive, cards.Value, path, ending == ".csv" ? Table : Json);
            });
        });
    }

    private static Outcome<BundlePart> Write(
        CardArchive archive, ValueList<long> cards, string path, Action<Stream, IEnumerable<NamedReading>> write)
    {
        int count = 0;
        Refusal? refusal = null;
        Refusal? unwritten = FreshFile.Write(path, stream =>
        {
            write(stream, Readings());
            return refusal;
        });
        return unwritten is null ? new BundlePart(cards.Count, count) : unwritten;

        // One after the other: an archive may hold more than fits into memory.
        IEnumerable<NamedReading> Readings()
        {
            foreach (long card in cards)
            {
                Outcome<ValueList<ReadingEntry>> entries = archive.ReadingsOf(new ArchiveSubject(CardEntry.NameOf(card), CardId: card));
                refusal ??= entries.Refusal;
                if (refusal is not null) yield break;
                foreach (ReadingEntry entry in entries.Value.Reverse())
                {
                    Outcome<Reading> reading = archive.Reading(entry.Id);
                    refusal ??= reading.Refusal;
                    if (refusal is not null) yield break;
                    count++;
                    yield return new NamedReading(entry.Name, entry.ReadUtc, reading.Value);
                }
            }
        }
    }

    private static void Table(Stream stream, IEnumerable<NamedReading> readings)
    {
        using StreamWriter text = new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true);
        CardReport.WriteCsv(readings, text);
    }

    /// <summary>Writes each reading before it asks for the next.</summary>
    internal static void Json(Stream stream, IEnumerable<NamedReading> readings)
    {
        using Utf8JsonWriter json = new(stream, new JsonWriterOptions { Indented = true });
        json.WriteStartArray();
        foreach (NamedReading named in readings)
        {
            json.WriteStartObject();
            json.WriteString("name", named.Name);
            json.WriteString("readUtc", named.ReadUtc.UtcDateTime);
            json.WritePropertyName("reading");
            json.WriteRawValue(CardJson.Write(named.Reading));
            json.WriteEndObject();
            // Until then the writer holds everything in memory.
            json.Flush();
        }

        json.WriteEndArray();
    }
}
