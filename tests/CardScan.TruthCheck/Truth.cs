using System.Text.Json;

namespace CardScan.TruthCheck;

/// <summary>One entry of <c>cases.json</c>.</summary>
/// <param name="Id">Short name.</param>
/// <param name="Photo">File of the photo.</param>
/// <param name="Truth">File of the truth; absent for photos that must be refused.</param>
/// <param name="Plan">File of the plan.</param>
/// <param name="Expected"><c>measure</c> or <c>refuse</c>.</param>
/// <param name="Refusal">Code of the refusal, where it is known which one it must be.</param>
/// <param name="Group">Same for all photos of the same piece.</param>
/// <param name="Nuisance">What makes the photo hard, in words.</param>
internal sealed record Case(string Id, string Photo, string? Truth, string Plan, string Expected, string? Refusal,
    string? Group, string Nuisance)
{
    /// <summary>Same for all photos of one piece in different brightness, which are read together only.</summary>
    public string? Series { get; init; }

    /// <summary>Files of the truths of the photo's other cards; each names its plan.</summary>
    public string[] Others { get; init; } = [];

    /// <summary>True where the phone applied no tone curve, so that darkness can be held to account.</summary>
    public bool IsPlainSrgb => Nuisance.Contains("plain sRGB", StringComparison.OrdinalIgnoreCase);

    public bool MustBeRefused => Expected == "refuse";
}

/// <summary>What is known of a photo.</summary>
/// <param name="Best">Cells that are best.</param>
/// <param name="Cells">All cells.</param>
/// <param name="Plan">File of the card's plan; absent where the list names it.</param>
internal sealed record Truth(TruthBest Best, IReadOnlyList<TruthCell> Cells, string? Plan);

/// <summary>Cells that truth calls best, as [row, column].</summary>
internal sealed record TruthBest(int[]? Fastest95, int[][]? Fastest95Near, int[]? FastestFullyOpen, int[][]? FullyOpen);

/// <summary>What is known of a cell.</summary>
internal sealed record TruthCell
{
    public required int Row { get; init; }

    public required int Column { get; init; }

    public required double WidthMm { get; init; }

    public required double HeightMm { get; init; }

    /// <summary>Corners in the photo, px: top left, top right, bottom right, bottom left of the card frame.</summary>
    public required double[][] Corners { get; init; }

    /// <summary>Centre in the photo, px.</summary>
    public required double[] Centre { get; init; }

    /// <summary>Luminance of the burned surface over the bare one.</summary>
    public double? RatioY { get; init; }

    /// <summary>The same of the light that reaches this photo's lens, mirrored light included.</summary>
    public double? RatioSeen { get; init; }

    /// <summary>|1 − ratio| by the material's law, without grain or chance.</summary>
    public double? LawContrast { get; init; }

    public double GlareShare { get; init; }

    public double RingGlareShare { get; init; }

    public double ClippedShare { get; init; }

    public double RingClippedShare { get; init; }

    /// <summary>Sides of a cut cell by name (top, right, bottom, left).</summary>
    public IReadOnlyDictionary<string, TruthSide>? Sides { get; init; }

    /// <summary>Distance of a point from the cell's true centre in the card's millimetres, by the cell's own corners.</summary>
    public double MmFromCentre(double xPx, double yPx)
    {
        double ax = Edge(0, 1, 2, 3) / WidthMm, ay = Edge(1, 1, 2, 3) / WidthMm;
        double dx = Down(0) / HeightMm, dy = Down(1) / HeightMm;
        double x = xPx - Centre[0], y = yPx - Centre[1];
        double determinant = ax * dy - ay * dx;
        return Math.Sqrt(Math.Pow((x * dy - y * dx) / determinant, 2) + Math.Pow((ax * y - ay * x) / determinant, 2));

        double Edge(int axis, int topRight, int bottomRight, int bottomLeft) =>
            (Corners[topRight][axis] - Corners[0][axis] + Corners[bottomRight][axis] - Corners[bottomLeft][axis]) / 2;

        double Down(int axis) => (Corners[3][axis] - Corners[0][axis] + Corners[2][axis] - Corners[1][axis]) / 2;
    }
}

/// <summary>What is known of a side.</summary>
/// <param name="OpenFraction">Share of its length open through the whole thickness, 0 to 1.</param>
/// <param name="ThroughWidthMm">Mean width of the narrowest opening where open, mm.</param>
/// <param name="VisibleFraction">Share of its length through which light can reach the lens, 0 to 1.</param>
internal sealed record TruthSide(double OpenFraction, double? ThroughWidthMm, double? VisibleFraction);

/// <summary>Photos that are read together: one, or all of the same piece.</summary>
/// <param name="Name">Id of the case, or the group's.</param>
/// <param name="Folder">Where the files are.</param>
/// <param name="Cases">At least one; truth of the first holds.</param>
internal sealed record CaseGroup(string Name, string Folder, IReadOnlyList<Case> Cases)
{
    public Case First => Cases[0];

    /// <summary>True where the photos show what the phone does to tones, so that darkness can be held to account.</summary>
    public bool IsSeries => First.Series is not null;

    public Truth? LoadTruth() => First.Truth is null ? null : TruthFolder.Read<Truth>(Path.Combine(Folder, First.Truth));
}

/// <summary>A folder of photos with truth.</summary>
internal sealed record TruthFolder(IReadOnlyList<CaseGroup> Groups)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    /// <summary>
    /// Loads a list: every card of every photo alone, then every group and series of several photos together.
    /// </summary>
    /// <param name="list">The list's file; the others lie beside it.</param>
    public static TruthFolder Load(string list)
    {
        string folder = Path.GetDirectoryName(Path.GetFullPath(list))!;
        Case[] cases = Read<Case[]>(list);
        IEnumerable<CaseGroup> alone = cases.Where(one => one.Series is null)
            .SelectMany(one => (Case[])[one, .. one.Others.Select(truth => OtherCard(one, folder, truth))])
            .Select(one => new CaseGroup(one.Id, folder, [one]));
        IEnumerable<CaseGroup> together = cases.Where(one => (one.Group ?? one.Series) is not null)
            .GroupBy(one => (one.Group ?? one.Series)!)
            .Where(group => group.Count() > 1).Select(group => new CaseGroup(group.Key, folder, [.. group]));
        return new([.. alone, .. together]);
    }

    private static Case OtherCard(Case first, string folder, string truth) => first with
    {
        Id = truth.Split('.')[0], Truth = truth, Others = [],
        Plan = Read<Truth>(Path.Combine(folder, truth)).Plan ?? throw new InvalidDataException($"{truth} names no plan."),
    };

    internal static T Read<T>(string path) =>
        JsonSerializer.Deserialize<T>(File.ReadAllBytes(path), Json) ?? throw new InvalidDataException($"{path} holds nothing.");
}
