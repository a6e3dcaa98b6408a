using CsCheck;

namespace CardScan.Planning.Tests;

/// <summary>Which names the net holds, and which it lets pass.</summary>
public class MaterialNameTests
{
    /// <summary>Group and name.</summary>
    public static TheoryData<string, string> Dangerous => Rows("dangerous-names.csv");

    /// <summary>Language and name.</summary>
    public static TheoryData<string, string> Harmless => Rows("harmless-names.csv");

    [Theory]
    [MemberData(nameof(Dangerous))]
    public void A_name_of_a_dangerous_or_doubtful_material_is_noticed_however_it_is_written(string group, string name) =>
        Assert.Contains(group, HazardNames.GroupsOf(name));

    [Theory]
    [MemberData(nameof(Harmless))]
    public void A_harmless_or_clearly_denied_name_passes_without_a_word(string language, string name)
    {
        Assert.NotEmpty(language);
        Assert.Empty(HazardNames.GroupsOf(name));
    }

    // The names that a search of lists, papers and public text brought together.
    [Fact]
    public void Every_published_name_is_noticed()
    {
        string[] names = [.. Lines("published-hazard-names.csv").Select(line => line.Split(',')[2])];
        Assert.Equal(243, names.Length);
        Assert.DoesNotContain(names, name => HazardNames.GroupsOf(name).Count == 0);
    }

    [Fact]
    public void Every_row_of_the_table_is_noticed_as_its_own_group() =>
        Assert.Empty(Listed.Where(row => !HazardNames.GroupsOf(row.Name).Contains(row.Group)).Select(row => $"{row.Group}: {row.Name}"));

    [Fact]
    public void Every_row_of_the_table_has_a_known_status() =>
        Assert.Empty(DataFile.Rows("hazard-names.csv")
            .Where(row => row.Length != 5 || !new[] { "read", "memory", "unsure" }
                .Any(status => row[4].Contains(status, StringComparison.Ordinal)))
            .Select(row => string.Join(',', row)));

    [Fact]
    public void A_harmless_name_stays_harmless_beside_another() =>
        Gen.Select(OneOf(HarmlessNames), OneOf(HarmlessNames)).Sample(
            (one, other) => Assert.True(HazardNames.GroupsOf($"{one}; {other}").Count == 0, $"{one}; {other}"), iter: 2000,
            seed: "0000KnBXqwr5");

    [Fact]
    public void Dots_hidden_characters_capitals_and_digits_beside_it_hide_no_name() =>
        Gen.Select(OneOf(Spread), Gen.Int[0, 3], Gen.Int[0, int.MaxValue]).Sample(
            (row, kind, seed) => Assert.Contains(row.Group, HazardNames.GroupsOf(Disguise(row.Name, kind, new Random(seed)))), iter: 5000,
            seed: "0000KnBXqwr5");

    [Fact]
    public void Any_text_is_read() =>
        Gen.String[Gen.Char['\0', '\uffff'], 0, 40]
            .Sample(text => Assert.NotNull(HazardNames.GroupsOf(text)), iter: 5000, seed: "0000KnBXqwr5");

    // No clock: the places that are looked at are counted.
    [Theory]
    [InlineData("pvc ")]
    [InlineData("pc 1 ")]
    [InlineData("PCpC")]
    [InlineData("no of the ")]
    [InlineData("polyvinylchloride")]
    [InlineData("P.")]
    public void The_places_looked_at_grow_with_the_text_and_no_faster(string piece)
    {
        int one = Places(piece, 200), ten = Places(piece, 2000);
        Assert.InRange(ten, one, (10 * one) + 200);
    }

    private static Gen<T> OneOf<T>(T[] values) => Gen.Int[0, values.Length - 1].Select(at => values[at]);

    private static int Places(string piece, int times)
    {
        FoldedName name = FoldedName.Of(string.Concat(Enumerable.Repeat(piece, times)));
        return HazardNames.PlacesIn(name).Count();
    }

    private static IEnumerable<HazardNames.Entry> Listed => HazardNames.Entries().Where(row => row.Group != "harmless");

    /// <summary>Names that need no word beside them to be meant; a digit beside a digit would be another name.</summary>
    private static HazardNames.Entry[] Spread =>
        [.. Listed.Where(row => row.Where is NameWhere.Anywhere or NameWhere.Word or NameWhere.Start && !char.IsDigit(row.Name[^1]))];

    private static string[] HarmlessNames => [.. Lines("harmless-names.csv").Select(line => line.Split(',')[1])];

    private static string Disguise(string name, int kind, Random random) => kind switch
    {
        0 => Between(name, random, "\u200b", "\u00ad", "\u2060", "\u200d"),
        1 => string.Join('.', name.Select(letter => letter)).Replace(". .", " ", StringComparison.Ordinal) + ".",
        2 => string.Concat(name.Select(letter => random.Next(2) == 0 ? char.ToUpperInvariant(letter) : char.ToLowerInvariant(letter))),
        _ => $"{random.Next(1, 20)} mm{(random.Next(2) == 0 ? "" : " ")}{name}{random.Next(100)}",
    };

    private static string Between(string name, Random random, params string[] hidden) =>
        string.Concat(name.Select(letter => letter + (random.Next(2) == 0 ? hidden[random.Next(hidden.Length)] : "")));

    private static TheoryData<string, string> Rows(string file)
    {
        TheoryData<string, string> rows = [];
        foreach (string[] parts in Lines(file).Select(line => line.Split(',', 2))) rows.Add(parts[0], parts[1]);
        return rows;
    }

    private static IEnumerable<string> Lines(string file) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Data", file)).Skip(1).Where(line => line.Length > 0);
}
