using CardScan.Language;

namespace CardScan.Model;

/// <summary>The name that was meant by one that is not there.</summary>
public static class NearName
{
    /// <summary>The most alike of some names.</summary>
    /// <param name="given">What was given.</param>
    /// <param name="names">The names that there are.</param>
    /// <returns>A name that is one slip in three letters away at most, or begins with what was given; null where none is.</returns>
    public static string? Of(string given, IEnumerable<string> names)
    {
        ArgumentNullException.ThrowIfNull(given);
        string lower = given.Trim().ToLowerInvariant();
        return names.Select(name => (Name: name, Slips: Slips(lower, name.ToLowerInvariant())))
            .Where(near => near.Slips <= Math.Max(1, Math.Min(lower.Length, near.Name.Length) / 3))
            .OrderBy(near => near.Slips)
            .Select(near => near.Name).FirstOrDefault()
            ?? (lower.Length < 3 ? null : names.FirstOrDefault(name => name.StartsWith(lower, StringComparison.OrdinalIgnoreCase)));
    }

    /// <summary>The same as the value of a message; null where no name is near.</summary>
    public static Figure? FigureOf(string given, IEnumerable<string> names) => Figures.Text(Of(given, names));

    /// <summary>
    /// Letters to put in, leave out, change or swap with their neighbour: the optimal string alignment distance (Damerau
    /// 1964, Levenshtein 1966).
    /// </summary>
    private static int Slips(string a, string b)
    {
        int[,] least = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
        {
            for (int j = 0; j <= b.Length; j++)
            {
                if (i == 0 || j == 0)
                {
                    least[i, j] = i + j;
                    continue;
                }

                int changed = least[i - 1, j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                least[i, j] = Math.Min(changed, 1 + Math.Min(least[i - 1, j], least[i, j - 1]));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    least[i, j] = Math.Min(least[i, j], least[i - 2, j - 2] + 1);
            }
        }

        return least[a.Length, b.Length];
    }
}
