namespace CardScan.Calibration;

/// <summary>What the command line asks of the study.</summary>
internal sealed record StudyArguments(int Cards = 100, int Seed = 1, string Only = "", string? MarkdownFile = null, bool IsList = false)
{
    /// <summary>The arguments, or null where they make no sense.</summary>
    public static StudyArguments? Parse(string[] args)
    {
        StudyArguments? arguments = new();
        for (int i = 0; i < args.Length && arguments is not null; i++)
        {
            arguments = (args[i], i + 1 < args.Length ? args[i + 1] : null) switch
            {
                ("--list", _) => arguments with { IsList = true },
                ("--cards", { } text) when int.TryParse(text, out int cards) && cards > 0 => arguments with { Cards = cards },
                ("--seed", { } text) when int.TryParse(text, out int seed) => arguments with { Seed = seed },
                ("--only", { } text) => arguments with { Only = text },
                ("--markdown", { } text) when File.Exists(text) => arguments with { MarkdownFile = text },
                _ => null,
            };
            if (args[i] != "--list") i++;
        }

        return arguments;
    }

    /// <summary>The command that gives the same figures.</summary>
    public string Command =>
        $"dotnet run -c Release --project tests/CardScan.Calibration -- --cards {Cards} --seed {Seed}{(Only == "" ? "" : $" --only \"{Only}\"")}";
}
