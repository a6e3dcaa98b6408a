namespace CardScan.Planning;

/// <summary>Words beside a name that tell how it is meant: <c>name-words.csv</c>.</summary>
internal static class NameWords
{
    private static readonly ILookup<string, string> Roles = DataFile.Rows("name-words.csv")
        .SelectMany(row => row[2].Split(' ').Select(word => (Role: row[0], Word: FoldedName.Of(word).Text)))
        .ToLookup(entry => entry.Role, entry => entry.Word);

    /// <summary>"no", "without": what follows is not there.</summary>
    internal static readonly IReadOnlySet<string> Denials = Of("denial");

    /// <summary>"free", where <see cref="Ofs"/> follows.</summary>
    internal static readonly IReadOnlySet<string> DenialsWithOf = Of("denial-with");

    /// <summary>"-free": what goes before is not there.</summary>
    internal static readonly IReadOnlySet<string> DenialsAfter = Of("denial-after");

    /// <summary>Denials of a script without spaces, the longest first.</summary>
    internal static readonly IReadOnlyList<string> DenialsUnspaced = [.. Roles["denial-end"].OrderByDescending(word => word.Length)];

    /// <summary>"of", "from".</summary>
    internal static readonly IReadOnlySet<string> Ofs = Of("of");

    /// <summary>Words that may stand between a denial, or a word of form, and the name.</summary>
    internal static readonly IReadOnlySet<string> Links = Of("link", "of");

    /// <summary>"article", behind which "no" means a number.</summary>
    internal static readonly IReadOnlySet<string> Numbered = Of("number-word");

    /// <summary>"sheet", "film": the name beside it is of a material.</summary>
    internal static readonly IReadOnlySet<string> Forms = Of("form");

    /// <summary>Colours and units, which say neither.</summary>
    internal static readonly IReadOnlySet<string> Fillers = Of("colour", "unit", "of", "link");

    /// <summary>"with", "on": what follows is put together with what goes before.</summary>
    internal static readonly IReadOnlySet<string> Joins = Of("join");

    private static readonly HashSet<string> Hedges = Of("hedge");

    private static readonly IReadOnlyList<string> UnspacedHedges = [.. Roles["hedge-inside"]];

    /// <summary>Whether the name asks or guesses, so that nothing in it is denied for certain.</summary>
    internal static bool IsUnsure(FoldedName name)
    {
        if (name.IsAsked || UnspacedHedges.Any(hedge => name.Text.Contains(hedge, StringComparison.Ordinal))) return true;
        for (int at = 0; at < name.Text.Length; at = name.WordEnd(at))
        {
            if (Hedges.Contains(name.Word(at, name.WordEnd(at)))) return true;
        }

        return false;
    }

    private static HashSet<string> Of(params IEnumerable<string> roles) => [.. roles.SelectMany(role => Roles[role])];
}
