namespace CardScan.Planning;

/// <summary>
/// Finds the groups of dangerous or doubtful materials that a name belongs to: <c>hazard-names.csv</c>;
/// docs/method/material-names.md.
/// </summary>
internal static class HazardNames
{
    private const string Harmless = "harmless";

    private static readonly Lazy<NameNet<Entry>> Net =
        new(() => new(Entries().Select(entry => (FoldedName.Of(entry.Name).Text, entry)).Distinct()));

    private static readonly Lazy<string[]> Order = new(() => [.. Entries().Select(entry => entry.Group).Distinct()]);

    /// <summary>Every row of the table.</summary>
    internal static IEnumerable<Entry> Entries() =>
        DataFile.Rows("hazard-names.csv").Select(row => new Entry(row[0], row[2], Enum.Parse<NameWhere>(row[3], ignoreCase: true)));

    /// <summary>The groups that the name tells of, in the table's order.</summary>
    internal static IReadOnlyList<string> GroupsOf(string material)
    {
        FoldedName name = FoldedName.Of(material);
        Found[] found = [.. PlacesIn(name)];
        int[] reach = Reach(found, name.Text.Length);
        bool[] isHarmless = Harmlesses(found.Where(place => place.Group == Harmless && !IsInside(place, reach)), name.Text.Length);
        bool isUnsure = NameWords.IsUnsure(name);
        HashSet<string> groups =
        [
            .. found.Where(place => place.Group != Harmless && !IsInside(place, reach))
                .Where(place => !isHarmless[place.Start] && !isHarmless[place.End - 1])
                .Where(place => isUnsure || !new NamePlace(name, place.Start, place.End).IsDenied)
                .Select(place => place.Group),
        ];
        return [.. Order.Value.Where(groups.Contains)];
    }

    /// <summary>Every place where the letters of a known name stand and mean it.</summary>
    internal static IEnumerable<Found> PlacesIn(FoldedName name) =>
        from place in Net.Value.In(name.Text)
        where new NamePlace(name, place.Start, place.End).IsMeant(place.Name.Where)
        select new Found(place.Start, place.End, place.Name.Group);

    /// <summary>The letters of names that only look dangerous: rubberwood is no rubber.</summary>
    private static bool[] Harmlesses(IEnumerable<Found> found, int length)
    {
        bool[] isHarmless = new bool[length];
        foreach (Found place in found) isHarmless.AsSpan(place.Start..place.End).Fill(true);
        return isHarmless;
    }

    /// <summary>
    /// How far the longest dangerous name that begins at or before each letter goes, and for the letter itself where one
    /// begins.
    /// </summary>
    private static int[] Reach(Found[] found, int length)
    {
        int[] reach = new int[length + 1];
        foreach (Found place in found.Where(place => MaterialDanger.IsDanger(place.Group)))
            reach[place.Start + 1] = Math.Max(reach[place.Start + 1], place.End);
        for (int at = 1; at <= length; at++) reach[at] = Math.Max(reach[at], reach[at - 1]);
        return reach;
    }

    /// <summary>Inside a longer dangerous name: "vinyl" in "polyvinylidene fluoride".</summary>
    private static bool IsInside(Found place, int[] reach) => reach[place.Start] >= place.End || reach[place.Start + 1] > place.End;

    /// <summary>A row of the table.</summary>
    internal sealed record Entry(string Group, string Name, NameWhere Where);

    /// <summary>A place of a name of a group.</summary>
    internal readonly record struct Found(int Start, int End, string Group);
}
