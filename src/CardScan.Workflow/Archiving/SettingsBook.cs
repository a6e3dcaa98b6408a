using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>The settings of the archive that answer a question, and the files that they are written to.</summary>
/// <param name="Settings">The settings; what was read last comes first.</param>
/// <param name="Notes">What was found that is not exactly what was asked for, one sentence each.</param>
public sealed record SettingsBook(ValueList<KeptSetting> Settings, ValueList<string> Notes)
{
    /// <summary>The settings that are asked for.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="asked">Which; its words may name a thickness.</param>
    public static Outcome<SettingsBook> Of(ArchivePlace place, ArchiveQuery asked)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(asked);
        ArchiveQuery query = asked.ForSettings();
        Outcome<ValueList<KeptSetting>> settings = place.Use(archive => archive.Settings(query));
        return settings.IsRefused
            ? settings.Refusal!
            : new SettingsBook(settings.Value, NotesOf(settings.Value, query).ToValueList());
    }

    /// <summary>Writes them as comma-separated values.</summary>
    /// <param name="path">The file; one that is there is not replaced.</param>
    /// <returns>Why it was not written; null where it was.</returns>
    public Refusal? WriteCsv(string path) => FreshFile.Write(path, CardReport.SettingsCsv(Settings));

    private static IEnumerable<string> NotesOf(ValueList<KeptSetting> settings, ArchiveQuery query)
    {
        if (settings.Count == 0)
        {
            yield return Voice.Say("book.none");
            yield break;
        }

        string[] names = string.IsNullOrWhiteSpace(query.Text ?? query.Material) ? [] : NamesOf(settings, each => each.Card.Material);
        string[] machines = query.Machine is null ? [] : NamesOf(settings, each => each.Machine.Name);
        foreach (string[] several in new[] { names, machines }.Where(several => several.Length > 1))
            yield return Voice.Say("book.names", ("names", List(several)));
        if (query.ThicknessMm is not { } asked) yield break;
        double[] near = [.. settings.Select(each => each.Card.ThicknessMm).OfType<double>().Distinct()
            .Where(mm => Math.Abs(mm - asked) > 0.005).Order()];
        if (near.Length > 0)
            yield return Voice.Say("book.near", ("asked", Mm(asked)), ("near", List(near.Select(mm => (Figure)Mm(mm)))));
    }

    private static string[] NamesOf(ValueList<KeptSetting> settings, Func<KeptSetting, string> name) =>
        [.. settings.Select(name).Distinct(StringComparer.Ordinal)];
}
