namespace CardScan.Robustness;

/// <summary>What the command line asks for.</summary>
/// <param name="Photos">Number of photos.</param>
/// <param name="Seed">Same seed, same photos.</param>
/// <param name="First">Number of the first one.</param>
/// <param name="Markdown">Page to be written; null writes none.</param>
/// <param name="Keep">Folder of the rendered photos, which are taken from there the next time; null keeps none.</param>
/// <param name="Only">
/// Numbers of single photos, instead of <paramref name="Photos"/> from <paramref name="First"/> on; null takes those.
/// </param>
/// <param name="List">File that gets a line for each photo; null writes none.</param>
internal sealed record RunArguments(int Photos = 1000, int Seed = 1, int First = 0, string? Markdown = null, string? Keep = null,
    int[]? Only = null, string? List = null)
{
    /// <summary>Numbers of the photos to be made.</summary>
    public int[] Numbers => Only ?? [.. Enumerable.Range(First, Photos)];

    /// <summary>The arguments, or null where they make no sense.</summary>
    public static RunArguments? Parse(string[] args)
    {
        if (args.Length % 2 != 0) return null;
        RunArguments? arguments = new();
        for (int i = 0; i < args.Length && arguments is not null; i += 2)
        {
            arguments = (args[i], args[i + 1]) switch
            {
                ("--photos", string text) when int.TryParse(text, out int photos) && photos > 0 => arguments with { Photos = photos },
                ("--seed", string text) when int.TryParse(text, out int seed) => arguments with { Seed = seed },
                ("--first", string text) when int.TryParse(text, out int first) && first >= 0 => arguments with { First = first },
                ("--markdown", string text) => arguments with { Markdown = text },
                ("--keep", string text) => arguments with { Keep = text },
                ("--only", string text) when NumbersIn(text) is { } only => arguments with { Only = only },
                ("--list", string text) => arguments with { List = text },
                _ => null,
            };
        }

        return arguments;
    }

    private static int[]? NumbersIn(string text)
    {
        int[] numbers = [.. text.Split(',').Select(part => int.TryParse(part, out int number) ? number : -1)];
        return numbers.Any(number => number < 0) ? null : numbers;
    }

    /// <summary>The command that gives the same figures.</summary>
    public string Command =>
        "dotnet run -c Release --project tests/CardScan.Robustness -- "
        + $"--photos {Photos} --seed {Seed}{(First == 0 ? "" : $" --first {First}")} --markdown docs/robustness.md";
}
