using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Scoring.Comparing;

namespace CardScan.Workflow;

/// <summary>What is to be compared.</summary>
/// <param name="Readings">Readings with their labels, two or more, the reference first.</param>
/// <param name="Options">Margin and repeats.</param>
public sealed record CompareRequest(ValueList<LabelledReading> Readings, ComparisonOptions Options)
{
    /// <summary>Annotated pictures of some of them, for the page.</summary>
    public ValueList<ComparedPicture> Pictures { get; init; } = [];

    /// <summary>Folder for the results; null writes none.</summary>
    public string? OutputFolder { get; init; }

    /// <summary>A request for readings that come from files.</summary>
    /// <param name="readings">What is compared.</param>
    /// <param name="repeats">Readings of one card; empty where there are none.</param>
    /// <param name="margin">Difference that counts as none, as a share; null for the default.</param>
    public static CompareRequest Of(ValueList<LoadedReading> readings, ValueList<LoadedReading> repeats, double? margin) => new(
        readings.Select(each => each.Labelled).ToValueList(),
        new() { Margin = margin ?? new ComparisonOptions().Margin, Repeats = repeats.Select(each => each.Labelled).ToValueList() })
    {
        Pictures = readings.Select(each => each.Compared).OfType<ComparedPicture>().ToValueList(),
    };
}

/// <summary>What came of it.</summary>
/// <param name="Comparison">The comparison.</param>
/// <param name="Files">Paths of the files written, the page first.</param>
public sealed record CompareResult(Comparison Comparison, ValueList<string> Files);

/// <summary>Readings to comparison to page.</summary>
public static class CompareCards
{
    private const string Page = "comparison.html", Data = "comparison.json", OwnMark = "\"cardscan-comparison/";

    /// <summary>Compares readings that are loaded already.</summary>
    /// <param name="request">What to compare.</param>
    /// <returns>The comparison and its files, or why there are none.</returns>
    public static Outcome<CompareResult> Run(CompareRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.OutputFolder is { } asked && FirstObstacle(asked) is { } obstacle) return obstacle;
        Outcome<Comparison> compared = CardComparer.Compare(request.Readings, request.Options);
        if (compared.IsRefused) return compared.Refusal!;
        Comparison comparison = WithMaterialWords(compared.Value);
        if (request.OutputFolder is not { } folder) return new CompareResult(comparison, []);

        ComparisonInput input = new(comparison, request.Readings.Select(each => each.Reading).ToValueList(), request.Pictures);
        Outcome<ValueList<string>> files = OutputFolder.Write(
            folder, [NewFile.OfText(Page, CardReport.ComparisonHtml(input)), NewFile.OfText(Data, CardJson.Write(comparison))]);
        return files.IsRefused ? files.Refusal! : new CompareResult(comparison, files.Value);
    }

    /// <summary>Every pair tells a setting, so each has what speaks against burning its two materials.</summary>
    private static Comparison WithMaterialWords(Comparison comparison)
    {
        Dictionary<string, string> materials = comparison.Batches.ToDictionary(batch => batch.Label, batch => batch.Material.Name);
        return comparison with { Pairs = comparison.Pairs.Select(WithWords).ToValueList() };

        ComparedPair WithWords(ComparedPair pair) => pair with
        {
            Notes =
            [
                .. new[] { pair.Other, pair.Reference }.Select(label => materials[label]).Distinct().SelectMany(MaterialWords.Of),
                .. pair.Notes,
            ],
        };
    }

    private static bool IsOwn(byte[] data) =>
        System.Text.Encoding.UTF8.GetString(data.AsSpan(0, Math.Min(200, data.Length))).Contains(OwnMark, StringComparison.Ordinal);

    /// <summary>A comparison is made again from its readings at any time, so an earlier one is replaced; nobody else's file is.</summary>
    private static Refusal? FirstObstacle(string folder)
    {
        if (OutputFolder.NameFault(folder) is { } fault) return fault;
        string page = Path.Combine(folder, Page), data = Path.Combine(folder, Data);
        if (!Path.Exists(page) && !Path.Exists(data)) return null;
        Outcome<byte[]> old = InputFile.ReadBytes(data, "comparison");
        return !Directory.Exists(page) && !old.IsRefused && IsOwn(old.Value)
            ? null
            : Refusal.OfInput(Codes.OutForeign, ("kind", "comparison"), ("path", Path.Exists(page) ? page : data));
    }
}
