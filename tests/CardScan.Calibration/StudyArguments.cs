namespace CardScan.Calibration;

/// <summary>What the command line asks of the study.</summary>
internal sealed record StudyArguments
{
    /// <summary>Seeds below this are for tuning a scoring by; those from here on are only for judging it.</summary>
    public const int FirstJudgingSeed = 1001;

    /// <summary>Names of the studies; the first is run where none is named.</summary>
    public static readonly string[] Studies = ["laws", "place", "chain", "next", "information", "intervals"];

    public string Study { get; init; } = Studies[0];

    /// <summary>Cards a case.</summary>
    public int Cards { get; init; } = 20;

    public int Seed { get; init; } = 1;

    /// <summary>Part of the name of a case.</summary>
    public string Only { get; init; } = "";

    /// <summary>Index of a single card; null: all.</summary>
    public int? Card { get; init; }

    /// <summary>Where that card's reading is written.</summary>
    public string? SaveFile { get; init; }

    public string? MarkdownFile { get; init; }

    /// <summary>Names of the cases are asked for, not figures.</summary>
    public bool IsList { get; init; }

    /// <summary>Cards that come out badly are to be named.</summary>
    public bool ShowsBad { get; init; }

    /// <summary>The arguments, or null where they make no sense.</summary>
    public static StudyArguments? Parse(string[] args)
    {
        StudyArguments? arguments = new();
        for (int i = 0; i < args.Length && arguments is not null; i++)
        {
            if (Switched(arguments, args[i]) is { } switched) arguments = switched;
            else arguments = i + 1 < args.Length ? With(arguments, args[i], args[++i]) : null;
        }

        return arguments is { SaveFile: not null, Card: null } ? null : arguments;
    }

    /// <summary>The command that gives the same figures.</summary>
    public string Command =>
        "dotnet run -c Release --project tests/CardScan.Calibration -- "
        + $"--study {Study} --cards {Cards} --seed {Seed}{(Only == "" ? "" : $" --only \"{Only}\"")}";

    private static StudyArguments? Switched(StudyArguments arguments, string name) => name switch
    {
        "--list" => arguments with { IsList = true },
        "--bad" => arguments with { ShowsBad = true },
        _ => null,
    };

    private static StudyArguments? With(StudyArguments arguments, string name, string value) => name switch
    {
        "--study" when Studies.Contains(value) => arguments with { Study = value },
        "--cards" when int.TryParse(value, out int cards) && cards > 0 => arguments with { Cards = cards },
        "--seed" when int.TryParse(value, out int seed) => arguments with { Seed = seed },
        "--only" => arguments with { Only = value },
        "--card" when int.TryParse(value, out int card) && card >= 0 => arguments with { Card = card },
        "--save" => arguments with { SaveFile = value },
        "--markdown" when File.Exists(value) => arguments with { MarkdownFile = value },
        _ => null,
    };
}
