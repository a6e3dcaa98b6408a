using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Two readings of the archive compared.</summary>
internal static class CompareRoutes
{
    /// <summary>Cards that the choice offers, the newest.</summary>
    private const int MostOffered = 200;

    public static void Map(IEndpointRouteBuilder routes, Workshop shop) => routes.MapGet(ComparePage.Path,
        (HttpContext context, string? first, string? second) =>
        {
            Outcome<FoundCards> found = shop.Cards.Take(new() { Most = MostOffered });
            if (found.IsRefused) return Answer.RefusedPage(context, found.Refusal!);
            CardEntry[] cards = [.. found.Value.Cards.Where(card => card.NewestReadingId is not null)];
            return Answer.Page(ComparePage.Write(context, cards, first, second, Compared(shop, first, second)));
        });

    private static IEnumerable<XElement>? Compared(Workshop shop, string? first, string? second)
    {
        if (first is null || second is null) return null;
        string? other = new[] { first, second }.FirstOrDefault(name => !IsReading(name));
        if (other is not null) return [RefusalPart.Write(Refusal.OfInput(Codes.ArchiveNoSuch, ("name", Inbox.Shown(other))))];
        Outcome<ComparisonInput> compared = shop.Comparisons.Take(first, second);
        return compared.IsRefused ? [RefusalPart.Write(compared.Refusal!)] : CardReport.ComparisonParts(compared.Value);
    }

    /// <summary>A name of the archive alone: anything else might be a file.</summary>
    private static bool IsReading(string name) =>
        name is ['r', .. var digits] && digits.Length is > 0 and < 19 && digits.All(char.IsAsciiDigit);
}
