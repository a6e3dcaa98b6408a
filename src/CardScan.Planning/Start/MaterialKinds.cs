namespace CardScan.Planning;

/// <summary>The kind of a material by the words of its name: a guess, which the plan says.</summary>
internal static class MaterialKinds
{
    private static readonly Lazy<(string Kind, Pattern[][] Patterns)[]> Known = new(() =>
        [.. DataFile.Rows("kinds.tsv", '\t').Select(row => (row[0], PatternsOf(row[1])))]);

    /// <summary>The kinds by name, as they stand in the table of starting energies.</summary>
    public static IEnumerable<string> All => Known.Value.Select(kind => kind.Kind);

    /// <summary>The kind; null where no word of the name says it.</summary>
    public static string? Of(string material)
    {
        string[] words = [.. FoldedName.Of(material).Words];
        return Known.Value.FirstOrDefault(kind => kind.Patterns.Any(all => all.All(pattern => words.Any(pattern.Fits)))).Kind;
    }

    private static Pattern[][] PatternsOf(string cell) =>
        [.. cell.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(all => all.Split('+').Select(Pattern.Of).ToArray())];

    /// <summary>A word; a star behind it stands for more letters, one in front of it for a longer word that holds it.</summary>
    private sealed record Pattern(string Word, bool IsInside, bool IsStart)
    {
        public static Pattern Of(string text) =>
            new(FoldedName.Of(text.Trim('*')).Text, text.StartsWith('*') || text.Any(IsIdeograph), text.EndsWith('*'));

        public bool Fits(string word) =>
            IsInside ? word.Contains(Word, StringComparison.Ordinal)
            : IsStart ? word.StartsWith(Word, StringComparison.Ordinal)
            : word == Word;

        /// <summary>Chinese is written without spaces.</summary>
        private static bool IsIdeograph(char c) => c is >= '\u4e00' and <= '\u9fff';
    }
}
