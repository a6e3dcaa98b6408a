using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Results, their pictures, their cells, and what they say when more or less is asked of them.</summary>
internal static class ReadingRoutes
{
    private const string Path = "/readings/r{id:long:min(1)}";

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet(Path, (HttpContext context, long id, string? cell) => Page(context, shop, ReadingEntry.NameOf(id), cell));
        routes.MapGet($"{Path}/answer", (long id, int? full, int? sure) => Scored(shop, ReadingEntry.NameOf(id), full, sure));
        foreach (SpeedUnit unit in Enum.GetValues<SpeedUnit>())
            routes.MapPost($"{Path}/{unit}", (HttpContext context, long id) => Tell(context, shop, ReadingEntry.NameOf(id), unit))
                .For(MemberRole.Look);
        routes.MapGet($"{Path}/newer", (long id) => Newer(shop, ReadingEntry.NameOf(id)));
        routes.MapGet($"{Path}/photos/{{index:int:range(0,99)}}.jpg", (long id, int index) => Photo(shop, ReadingEntry.NameOf(id), index));
    }

    private static IResult Page(HttpContext context, Workshop shop, string name, string? cell)
    {
        Outcome<ShelvedReading> reading = shop.Readings.Take(name);
        if (reading.IsRefused) return Answer.RefusedPage(context, reading.Refusal!);
        XElement? part = CellOf(reading.Value.Kept.Reading, cell);
        if (!Answer.IsForPart(context)) return Answer.Page(ReadingPage.Write(context, name, reading.Value, part));
        return part is null ? Results.NotFound() : Answer.Part(part);
    }

    /// <summary>A cell by its place, "2-5", counted from 1.</summary>
    private static XElement? CellOf(Reading reading, string? place) =>
        place?.Split('-') is [var row, var column] && int.TryParse(row, out int r) && int.TryParse(column, out int c)
            ? new ReportParts(reading).Cell(r - 1, c - 1)
            : null;

    private static IResult Scored(Workshop shop, string name, int? full, int? sure)
    {
        ScoringOptions usual = ScoringOptions.Default;
        if (ShareOf(sure) is { } wanted) usual = usual with { FullMarkConfidence = wanted, CutConfidence = wanted };
        if (ShareOf(full) is { } share) usual = usual with { FullMarkShare = share };
        Outcome<ReadResult> scored = ScoreReading.Run(new() { Readings = [name], Archive = shop.Archive, Scoring = usual });
        return scored.IsRefused ? Answer.Refused(scored.Refusal!) : Answer.Part(ReadingPage.Answer(new ReportParts(scored.Value.Reading)));
    }

    /// <summary>Tells speeds in another unit, here and everywhere.</summary>
    private static IResult Tell(HttpContext context, Workshop shop, string name, SpeedUnit unit)
    {
        Outcome<Preferences> chosen = MachineRoutes.Choose(context, shop, before => before with { Speeds = unit });
        return chosen.IsRefused ? Answer.Refused(chosen.Refusal!) : Answer.Go(context, ReadingPage.PathOf(name));
    }

    private static IResult Newer(Workshop shop, string name)
    {
        Outcome<ShelvedReading> reading = shop.Readings.Take(name);
        if (reading.IsRefused) return Answer.Refused(reading.Refusal!);
        KeptReadingView kept = reading.Value.Kept;
        ArchiveSubject subject = new(CardEntry.NameOf(kept.Entry.CardId), CardId: kept.Entry.CardId);
        Outcome<FoundCards> card = shop.Archive.Find(new() { Subject = subject, Most = 1 });
        return card.IsRefused
            ? Answer.Refused(card.Refusal!)
            : Answer.Part(ReadingPage.Newer(
                kept, card.Value.Cards is [var own] ? own : null, HistoryBook.DriftOn(shop.Archive, kept.Entry.CardId)));
    }

    private static double? ShareOf(int? percent) => percent is > 0 and < 100 ? percent / 100.0 : null;

    private static IResult Photo(Workshop shop, string name, int index)
    {
        Outcome<ShelvedReading> reading = shop.Readings.Take(name);
        return reading.IsRefused || index >= reading.Value.Photos.Count
            ? Results.NotFound()
            : Results.Bytes(reading.Value.Photos[index].Jpeg, "image/jpeg");
    }
}
