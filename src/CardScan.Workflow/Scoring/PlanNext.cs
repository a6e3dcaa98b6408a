using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>A card that is to follow another.</summary>
public sealed record NextRequest
{
    /// <summary>
    /// Path of the burned card's reading or of its report's folder, or its name in the archive; then those of earlier cards
    /// that add to what it tells.
    /// </summary>
    public required ValueList<string> Readings { get; init; }

    /// <summary>True to leave the archive's other cards out.</summary>
    public bool IsAlone { get; init; }

    /// <summary>Goal, size, steps and the machine's limits.</summary>
    public NextCardOptions Options { get; init; } = new();

    /// <summary>
    /// The new card's number; null takes the archive's next free one, or the one after the old card's where no archive
    /// is used.
    /// </summary>
    public int? Number { get; init; }

    /// <summary>
    /// The dangers of the material in the refusal's own words; what was accepted for the burned card is not accepted again.
    /// </summary>
    public string? AcceptedRisk { get; init; }

    /// <summary>Folder for the files, as <see cref="CardRequest.OutputFolder"/>.</summary>
    public string? OutputFolder { get; init; } = CardRequest.FolderOfCard;

    /// <summary>What is written beside the plan, as <see cref="CardRequest.Extras"/>.</summary>
    public CardExtras Extras { get; init; } = new();

    /// <summary>
    /// Told the burned card's machine; gives what is known of it now, null where nothing more is, or why it cannot be
    /// planned for. Null takes the card's own.
    /// </summary>
    public Func<Machine, Outcome<Machine?>>? MachineNow { get; init; }

    /// <summary>The archive that may have the reading, knows the free numbers and keeps the plan; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>Told what was planned before any file is written: the place for cautions.</summary>
    public Action<PlannedCard>? BeforeWriting { get; init; }
}

/// <summary>What planning the next card left.</summary>
/// <param name="Card">The plan and its files.</param>
/// <param name="Ranges">Its settings, what they are for, and what to expect.</param>
public sealed record NextCardMade(MadeCard Card, NextRanges Ranges)
{
    /// <summary>The number of the card that it follows.</summary>
    public required int After { get; init; }

    /// <summary>Earlier cards that it was planned by too, with the cells that were measured on them.</summary>
    public ValueList<JoinedCard> Joined { get; init; } = [];

    /// <summary>What kept other cards away, where a person should know.</summary>
    public ValueList<Warning> Doubts { get; init; } = [];
}

/// <summary>A saved reading to the plan of the card that follows.</summary>
public static class PlanNext
{
    /// <summary>Plans the next card and writes its files, as <see cref="MakeCard"/> does.</summary>
    /// <param name="request">What is asked.</param>
    /// <returns>The plan and why it is so; or why there is none. Another plan in the folder is never replaced.</returns>
    public static Outcome<NextCardMade> Run(NextRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Options.FastestMmPerMin < 2 * request.Options.SlowestMmPerMin)
            return Refusal.OfInput(Codes.NextSpeeds);
        Outcome<ReadingInCompany> chosen = CompanyChoice.Of(request.Readings, request.Archive, request.IsAlone);
        if (chosen.IsRefused) return chosen.Refusal!;

        (Reading burned, Company company) = chosen.Value;
        Outcome<Machine?> machine = request.MachineNow?.Invoke(burned.Plan.Machine) ?? (Machine?)null;
        if (machine.IsRefused) return machine.Refusal!;
        Outcome<NextRanges> ranges = NextCard.Plan(burned, company.Readings, request.Options);
        if (ranges.IsRefused) return ranges.Refusal!;

        Outcome<MadeCard> made = MakeCard.Run(new()
        {
            Plan = RequestOf(burned.Plan, ranges.Value, request.Number) with
            {
                Machine = machine.Value ?? burned.Plan.Machine, AcceptedRisk = request.AcceptedRisk,
            },
            IsByBurnedCard = true,
            TakesFreeNumber = request.Number is null,
            OutputFolder = request.OutputFolder,
            Extras = request.Extras,
            Archive = request.Archive,
            BeforeWriting = request.BeforeWriting,
        });
        if (made.IsRefused) return made.Refusal!;
        return new NextCardMade(made.Value, ranges.Value) { After = burned.Plan.Number, Joined = company.Listed, Doubts = company.Doubts };
    }

    /// <summary>
    /// Material, machine, fixed settings and sizes stay; a size that no card of ours may have becomes the nearest that
    /// one may.
    /// </summary>
    private static PlanRequest RequestOf(Plan old, NextRanges ranges, int? number)
    {
        CellSettings about = ranges.About;
        List<SettingRange> settings =
        [
            new(Setting.PowerPercent, ranges.PowersPercent),
            new(Setting.SpeedMmPerMin, ranges.SpeedsMmPerMin),
            new(Setting.Passes, [about.Passes]),
            new(Setting.FocusOffsetMm, [about.FocusOffsetMm]),
        ];
        if (old.Process == Process.Engrave && about.LineIntervalMm is { } interval) settings.Add(new(Setting.LineIntervalMm, [interval]));
        return new()
        {
            Process = old.Process,
            Number = number ?? (old.Number + 1) % Plan.Numbers,
            Title = Voice.Say("workflow.next-title", ("card", old.Number)),
            Material = old.Material,
            Machine = old.Machine,
            Settings = settings.ToValueList(),
            AirAssist = old.Fixed.AirAssist,
            FocusStepMm = about.Passes > 1 ? old.Fixed.FocusStepMm : null,
            PassPauseS = about.Passes > 1 ? old.Fixed.PassPauseS : null,
            CellPauseS = old.Burning?.CellPauseS,
            CellSideMm = Math.Clamp(old.Cells[0].WidthMm, old.Process == Process.Cut ? 4 : PlanRequest.LeastCellMm, 50),
            GapMm = GapOf(old),
            MarkerSideMm = Math.Clamp(old.Fiducials.SideMm, PlanRequest.LeastMarkerMm, 15),
        };
    }

    /// <summary>The narrowest strip between neighbouring columns, within what a plan may have.</summary>
    private static double GapOf(Plan old)
    {
        double[] lefts = [.. old.Cells.Select(cell => cell.XMm).Distinct().Order()];
        double least = lefts.Zip(lefts.Skip(1), (left, right) => right - left).DefaultIfEmpty(0).Min() - old.Cells[0].WidthMm;
        return Math.Clamp(Math.Round(least, 3), old.Process == Process.Cut ? 6 : PlanRequest.LeastGapMm, 50);
    }
}
