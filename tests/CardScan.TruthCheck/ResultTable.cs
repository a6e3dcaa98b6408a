using System.Text;

namespace CardScan.TruthCheck;

/// <summary>The results as plain text, one row a case.</summary>
internal static class ResultTable
{
    public static string Render(IReadOnlyList<CaseResult> results)
    {
        StringBuilder text = new();
        Append(text, "engraved", results.Where(result => result.Engraved is not null), EngravedHead, EngravedRow);
        Append(text, "cut", results.Where(result => result.Cut is not null), CutHead, CutRow);
        Append(text, "refused", results.Where(result => result.Engraved is null && result.Cut is null), ["case", "code", "ms"],
            result => [result.Name, result.Refused ?? "none", Number(result.Milliseconds, 0)]);
        foreach (CaseResult result in results.Where(result => result.Misses.Count > 0))
            text.Append("MISSED ").Append(result.Name).Append(": ").AppendJoin("; ", result.Misses).AppendLine();
        if (results.All(result => result.Misses.Count == 0)) text.AppendLine("Every target is met.");
        return text.ToString();
    }

    private static readonly string[] EngravedHead =
    [
        "case", "cells mm RMS", "max", "darkness RMS seen", "surface", "Spearman", "error/stated", "within 2", "flagged", "lost unflagged",
        "fastest full mark", "darkest", "ms", "warnings"
    ];

    private static string[] EngravedRow(CaseResult result)
    {
        EngravedResult engraved = result.Engraved!;
        return
        [
            result.Name, Number(result.PlaceRmsMm, 3), Number(result.PlaceMaxMm, 3), Number(engraved.SeenRms, 4),
            Number(engraved.SurfaceRms, 4), Number(engraved.Spearman, 4),
            Number(engraved.ErrorOverStated, 2), $"{engraved.Within:P0}", $"{engraved.Flagged}", $"{engraved.LostUnflagged}",
            $"{engraved.FastestFullMark}", $"{engraved.Darkest}",
            Number(result.Milliseconds, 0), string.Join(' ', result.Warnings),
        ];
    }

    private static readonly string[] CutHead =
    [
        "case", "cells mm RMS", "max", "sides right", "wrong", "open though closed", "unseen", "open share RMS", "kerf mm RMS", "bias",
        "sure cut", "ms", "warnings"
    ];

    private static string[] CutRow(CaseResult result)
    {
        CutResult cut = result.Cut!;
        return
        [
            result.Name, Number(result.PlaceRmsMm, 3), Number(result.PlaceMaxMm, 3), $"{cut.Right}", $"{cut.Wrong}",
            $"{cut.OpenThoughClosed}", $"{cut.Unseen}",
            Number(cut.OpenRms, 3), Number(cut.KerfRmsMm, 3), Number(cut.KerfBiasMm, 3), $"{cut.SureCut}", Number(result.Milliseconds, 0),
            string.Join(' ', result.Warnings),
        ];
    }

    private static void Append(StringBuilder text, string title, IEnumerable<CaseResult> results, string[] head,
        Func<CaseResult, string[]> rowOf)
    {
        string[][] rows = [head, .. results.Select(rowOf)];
        if (rows.Length == 1) return;
        int[] widths = [.. head.Select((_, column) => rows.Max(row => row[column].Length))];
        text.AppendLine(title);
        foreach (string[] row in rows)
            text.AppendJoin("  ", row.Select((value, column) => value.PadRight(widths[column]))).AppendLine();
        text.AppendLine();
    }

    private static string Number(double? value, int digits) =>
        value is double number && double.IsFinite(number) ? number.ToString("F" + digits) : "-";
}
