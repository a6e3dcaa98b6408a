using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>Something that was found which is not exactly what was asked for.</summary>
/// <param name="Text">It, in a sentence.</param>
/// <param name="Alike">Names that are likely one; null where it is about something else.</param>
public sealed record BookNote(string Text, LikeNames? Alike = null);

/// <summary>The settings of the archive that answer a question, and the files that they are written to.</summary>
/// <param name="Settings">The settings; what was read last comes first.</param>
/// <param name="Notes">What was found that is not exactly what was asked for.</param>
public sealed record SettingsBook(ValueList<KeptSetting> Settings, ValueList<BookNote> Notes)
{
    /// <summary>So many are shown where nobody says how many: more than a workshop hangs up on its wall.</summary>
    public const int UsualMost = 200;

    /// <summary>So many names are told; whoever sees more does not read them.</summary>
    private const int MostNames = 8;

    /// <summary>The settings that are asked for.</summary>
    /// <param name="place">The archive.</param>
    /// <param name="asked">Which, and how many at most; its words may name a thickness.</param>
    public static Outcome<SettingsBook> Of(ArchivePlace place, ArchiveQuery asked)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(asked);
        ArchiveQuery query = asked.ForSettings();
        // One more than is shown tells whether there are more.
        int most = query.Most;
        query = query with { Most = most == int.MaxValue ? most : most + 1 };
        return place.Use<SettingsBook>(archive =>
        {
            Outcome<ValueList<KeptSetting>> settings = archive.Settings(query);
            if (settings.IsRefused) return settings.Refusal!;
            Outcome<ValueList<LikeNames>> names = archive.LikeNames();
            if (names.IsRefused) return names.Refusal!;
            ValueList<KeptSetting> shown = settings.Value.Take(most).ToValueList();
            IEnumerable<BookNote> notes =
            [
                .. settings.Value.Count > most ? [new BookNote(Voice.Say("book.more", ("shown", most)))] : (BookNote[])[],
                .. NotesOf(shown, query).Select(text => new BookNote(text)), .. AlikeIn(shown, names.Value),
                .. ThicknessesOf(shown).Distinct().Select(text => new BookNote(text)),
            ];
            return new SettingsBook(shown, notes.ToValueList());
        });
    }

    /// <summary>Writes them as comma-separated values.</summary>
    /// <param name="path">The file; one that is there is not replaced.</param>
    /// <returns>Why it was not written; null where it was.</returns>
    public Refusal? WriteCsv(string path) => FreshFile.Write(path, CardReport.SettingsCsv(Settings));

    /// <summary>Writes those that are sure as a sheet to hang up.</summary>
    /// <param name="path">The file, a PDF; one that is there is replaced where it is such a sheet.</param>
    /// <param name="day">The day that it is made on.</param>
    /// <param name="paper">The paper.</param>
    /// <returns>Why it was not written; null where it was.</returns>
    public Refusal? WriteSheet(string path, DateOnly day, Paper paper) => Settings.Any(setting => setting.IsSetting)
        ? FreshFile.Write(path, CardReport.SettingsPdf(Settings, day, paper), file => CardReport.IsSettingsPdf(file))
        : Refusal.OfInput(Codes.SheetEmpty);

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
        {
            yield return Voice.Say(
                "book.names", ("names", List(several.Take(MostNames))), ("more", Math.Max(0, several.Length - MostNames)));
        }

        if (query.ThicknessMm is not { } asked) yield break;
        double[] near = [.. settings.Select(each => each.Card.ThicknessMm).OfType<double>().Distinct()
            .Where(mm => Math.Abs(mm - asked) > 0.005).Order()];
        if (near.Length > 0)
            yield return Voice.Say("book.near", ("asked", Mm(asked)), ("near", List(near.Select(mm => (Figure)Mm(mm)))));
    }

    /// <summary>Names that are likely one with a name that is shown: nothing is brought together without the maker's word.</summary>
    private static IEnumerable<BookNote> AlikeIn(ValueList<KeptSetting> settings, ValueList<LikeNames> names)
    {
        HashSet<string> materials = [.. settings.Select(each => each.Card.Material)];
        HashSet<string> machines = [.. settings.Select(each => each.Machine.Name)];
        return names.Where(like => like.Kind switch
        {
            NamedKind.Material => materials.Contains(like.Name) || materials.Contains(like.Usual),
            NamedKind.Machine => machines.Contains(like.Name) || machines.Contains(like.Usual),
            _ => materials.Contains(like.Material!),
        }).Select(like => new BookNote(Voice.Say("book.alike", ("name", like.Name), ("usual", like.Usual),
            ("command", RenameLine.Of(like.Kind, like.Name, like.Usual))), like));
    }

    /// <summary>Thicknesses of one material that differ by a tenth at most: one sheet, measured and as it was sold.</summary>
    private static IEnumerable<string> ThicknessesOf(ValueList<KeptSetting> settings)
    {
        foreach (IGrouping<(string, string, string), KeptSetting> kind in settings.Where(each => each.Card.ThicknessMm is not null)
            .GroupBy(each => (each.Card.Material, Voice.Tell(each.MachineFigure()), each.Recommendation.Goal)))
        {
            KeptSetting[] sorted = [.. kind.OrderBy(each => each.Card.ThicknessMm)];
            foreach ((KeptSetting thin, KeptSetting thick) in sorted.Zip(sorted.Skip(1))
                .Where(pair => pair.Second.Card.ThicknessMm <= 1.1 * pair.First.Card.ThicknessMm))
            {
                yield return Voice.Say("book.thicknesses", ("material", thin.Card.Material), ("first", Mm(thin.Card.ThicknessMm!.Value)),
                    ("second", Mm(thick.Card.ThicknessMm!.Value)), ("reading", thin.ReadingName), ("other", thick.ReadingName));
            }
        }
    }

    private static string[] NamesOf(ValueList<KeptSetting> settings, Func<KeptSetting, string> name) =>
        [.. settings.Select(name).Distinct(StringComparer.Ordinal)];
}
