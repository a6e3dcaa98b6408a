namespace CardScan.Planning;

/// <summary>A kind of material and what it does under a beam: a row of <c>kinds.tsv</c>.</summary>
/// <param name="Name">As in the table of starting energies; several rows may have it.</param>
/// <param name="Traits">What the head of the table explains.</param>
internal sealed record MaterialKind(string Name, IReadOnlySet<string> Traits)
{
    /// <summary>It chars beside a mark.</summary>
    public bool Chars => Traits.Contains("chars");

    /// <summary>It lets the light of diodes and fibre lasers through.</summary>
    public bool IsClear => Traits.Contains("clear");

    /// <summary>It throws the beam back.</summary>
    public bool IsMirror => Traits.Contains("mirrors");

    /// <summary>It is leather whose tanning the name does not tell.</summary>
    public bool IsOfUnknownTanning => Traits.Contains("tanning");

    /// <summary>A metal, a glass or a stone, whose name often is that of a colour or a look only.</summary>
    public bool MayBeLook => Traits.Contains("look");

    /// <summary>Its noun, at the end of a name, is what the thing is: "steel coated paper".</summary>
    public bool IsHead => Traits.Contains("head");
}

/// <summary>The kind of a material by the words of its name: a guess, which the plan says.</summary>
internal static class MaterialKinds
{
    /// <summary>Name of the row whose words say nothing of the material: "acrylic paint".</summary>
    private const string Idle = "-";

    private static readonly Lazy<KindRow[]> Rows = new(() => [.. DataFile.Rows("kinds.tsv", '\t').Select(KindRow.Of)]);

    /// <summary>The kinds by name, as they stand in the table of starting energies.</summary>
    public static IEnumerable<string> All => Known.Select(row => row.Kind.Name).Distinct();

    private static IEnumerable<KindRow> Known => Rows.Value.Where(row => row.Kind.Name != Idle);

    /// <summary>The kind's name; null where no word of the material's name says it.</summary>
    public static string? Of(string material) => Find(material)?.Name;

    /// <summary>The kind; null where no word of the material's name says it.</summary>
    public static MaterialKind? Find(string material)
    {
        string[] words = WordsOf(material);
        MaterialKind? kind = Known.FirstOrDefault(row => row.Fits(words))?.Kind;
        return kind is { MayBeLook: true } && HeadOf(material) is { } head ? head : kind;
    }

    /// <summary>What stands last, but for sizes and colours, is the thing itself, unless it is only put together with another.</summary>
    private static MaterialKind? HeadOf(string material)
    {
        string[][] parts = [.. material.Split([',', ';', '/', '+', '&']).Select(WordsOf).Where(words => !words.All(IsBeside))];
        if (parts is not [var words] || words.Any(NameWords.Joins.Contains)) return null;
        string last = words.Last(word => !IsBeside(word));
        return Known.FirstOrDefault(row => row.Kind.IsHead && row.Fits([last]))?.Kind;
    }

    private static string[] WordsOf(string material) => WithoutIdle([.. FoldedName.Of(material).Words]);

    private static bool IsBeside(string word) =>
        char.IsDigit(word[0]) || NameWords.Fillers.Contains(word) || NameWords.Forms.Contains(word);

    private static string[] WithoutIdle(string[] words)
    {
        foreach (KindRow idle in Rows.Value.Where(row => row.Kind.Name == Idle)) words = idle.Without(words);
        return words;
    }

    private sealed record KindRow(MaterialKind Kind, WordGroup[] Groups)
    {
        public static KindRow Of(string[] cells) => new(
            new(cells[0], cells[1].Split(' ').ToHashSet()),
            [.. cells[2].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(WordGroup.Of)]);

        public bool Fits(string[] words) => Groups.Any(group => group.Fits(words));

        public string[] Without(string[] words) => Groups.Aggregate(words, (rest, group) => group.Without(rest));
    }

    /// <summary>Words that must all be there: in any order, one behind the other, or next to each other.</summary>
    private sealed record WordGroup(WordPattern[] Patterns, char Order)
    {
        private const char AnyOrder = '+', Behind = '>', Next = '~';

        public static WordGroup Of(string text)
        {
            char order = text.Contains(Behind, StringComparison.Ordinal) ? Behind
                : text.Contains(Next, StringComparison.Ordinal) ? Next
                : AnyOrder;
            return new([.. text.Split(order).Select(WordPattern.Of)], order);
        }

        public bool Fits(string[] words) => Order switch
        {
            Behind => Array.FindIndex(words, Patterns[0].Fits) is >= 0 and int first && words.Skip(first + 1).Any(Patterns[1].Fits),
            Next => PlaceOfPair(words) >= 0,
            _ => Patterns.All(pattern => words.Any(pattern.Fits)),
        };

        /// <summary>Without the words that stand next to each other.</summary>
        public string[] Without(string[] words)
        {
            while (PlaceOfPair(words) is >= 0 and int at) words = [.. words[..at], .. words[(at + 2)..]];
            return words;
        }

        private int PlaceOfPair(string[] words)
        {
            for (int i = 0; i + 1 < words.Length; i++)
            {
                if (Patterns[0].Fits(words[i]) && Patterns[1].Fits(words[i + 1])) return i;
            }

            return -1;
        }
    }

    /// <summary>A word; a star behind it stands for more letters, one in front of it for a longer word that holds it.</summary>
    private sealed record WordPattern(string Word, bool IsInside, bool IsStart)
    {
        public static WordPattern Of(string text) =>
            new(FoldedName.Of(text.Trim('*')).Text, text.StartsWith('*') || text.Any(IsIdeograph), text.EndsWith('*'));

        public bool Fits(string word) =>
            IsInside ? word.Contains(Word, StringComparison.Ordinal)
            : IsStart ? word.StartsWith(Word, StringComparison.Ordinal)
            : word == Word;

        /// <summary>Chinese is written without spaces.</summary>
        private static bool IsIdeograph(char c) => c is >= '\u4e00' and <= '\u9fff';
    }
}
