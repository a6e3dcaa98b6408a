namespace CardScan.Calibration;

/// <summary>Cards with and without a field over the place.</summary>
internal static class PlaceCases
{
    /// <summary>Fewer cells hold too little to tell a place from a setting.</summary>
    public static readonly GridSize[] Sizes = [new(6, 6), new(8, 8), new(10, 10), new(12, 12), new(5, 10)];

    private static readonly EngraveCase EngravedOwn = EngraveCases.All[0];
    private static readonly CutCase CutOwn = CutCases.All[0];

    /// <summary>One group of cards, a row of the table.</summary>
    /// <param name="Name">Name of the row.</param>
    /// <param name="Laws">The laws of its cards.</param>
    /// <param name="HasField">Whether a trend over the place is there to be found.</param>
    public sealed record Group(string Name, LawCase[] Laws, bool HasField);

    public static IEnumerable<Group> Groups =>
    [
        new("engraved, weaker corner", [EngravedOwn with { Name = "place: weaker corner", Field = Fields.Corner }], true),
        new("engraved, one side out of level", [EngravedOwn with { Name = "place: bed", Field = Fields.Bed }], true),
        new("engraved, even, own law", [EngravedOwn], false),
        new("engraved, even, all other laws", [.. EngraveCases.All.Skip(1).Where(law => law.Field is null)], false),
        new("cut, weaker corner", [CutOwn with { Name = "place: weaker corner", Field = Fields.Corner }], true),
        new("cut, one side out of level", [CutOwn with { Name = "place: bed", Field = Fields.Bed }], true),
        new("cut, even, own law", [CutOwn], false),
        new("cut, even, all other laws", [.. CutCases.All.Skip(1).Where(law => law.Field is null)], false),
    ];

    /// <summary>Words that name where a field is weakest: a corner by both, a side by one of them; none where there is no field.</summary>
    public static string[] WeakWords(PlaceField field) => field switch
    {
        CornerField corner => [corner.IsBottom ? "bottom" : "top", corner.IsRight ? "right" : "left"],
        BedField { IsAlongX: true } bed => [bed.IsFarSide ? "right" : "left"],
        BedField bed => [bed.IsFarSide ? "bottom" : "top"],
        _ => [],
    };
}
