using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>What a maker may want to look at again before burning.</summary>
internal static class BurnHints
{
    /// <summary>Light of one diode at most, W (common practice, no source).</summary>
    private const double LargestDiodeWatts = 8;

    /// <summary>More combined diodes than this are rare, so the number may well be the supply's (common practice, no source).</summary>
    private const int UsualDiodes = 3;

    /// <summary>No laser's head is so slow at its fastest, mm/min (common practice, no source).</summary>
    private const double SlowMachineMmPerMin = 600;

    /// <summary>Less energy or time than this is within what a card tells anyway, as a share.</summary>
    private const double NoticedExcess = 0.02;

    /// <summary>Gaps this wide keep char away from what a cell is compared with, mm.</summary>
    private const double UsualGapMm = 6;

    /// <summary>A focus no deeper than this hardly widens the beam on the surface (common practice, no source), mm.</summary>
    private const double ThinFocusMm = 2;

    /// <summary>Light between these wavelengths passes clear plastic and glass, nm.</summary>
    private const double ClearFromNm = 380, ClearToNm = 1600;

    /// <param name="plan">The plan.</param>
    /// <param name="isByBurnedCard">
    /// True where a burned card tells what the material needs, better than its name could: nothing is called overdone then.
    /// </param>
    internal static IEnumerable<Advice> Of(Plan plan, bool isByBurnedCard)
    {
        // The job of a large card is worked out once for all that look at it.
        BurnJob? job = plan.Burning is null ? null : BurnJob.Of(plan);
        BurnEstimate? estimate = job is null ? null : BurnTime.Of(job, plan.Machine.RatedOpticalWatts);
        return ((IEnumerable<Advice?>)
        [
            estimate is null ? null : BurnTimeHint.Of(plan, estimate),
            estimate is null || isByBurnedCard ? null : OverdoneHint.Of(plan, estimate),
            Thickness(plan),
            FocusInside(plan),
            .. OfMachine(plan.Machine),
            Leather(plan.Material),
            Transparent(plan),
            Mirror(plan.Material),
            LinesApart(plan),
            NarrowGap(plan),
            PhotoBudget.Hint(plan),
            job is null ? null : RunUp(plan, job),
            job is null ? null : BeamSwitch(plan.Machine, job, estimate!),
        ]).OfType<Advice>();
    }

    /// <summary>What of a machine's profile looks like a slip.</summary>
    internal static IEnumerable<Advice> OfMachine(Machine machine) =>
        ((IEnumerable<Advice?>)[Watts(machine), Feed(machine)]).OfType<Advice>();

    /// <summary>Looks like mm/s, or like metres a minute.</summary>
    private static Advice? Feed(Machine machine) => machine.FastestFeedMmPerMin is { } feed and < SlowMachineMmPerMin
        ? new(Codes.FeedSlow, ("feed", Speed(feed)))
        : null;

    /// <summary>Looks like what the supply draws.</summary>
    private static Advice? Watts(Machine machine)
    {
        bool mayBeDiode = machine.WavelengthNm is not { } nm || nm is > 380 and < 560;
        int diodes = (int)Math.Ceiling(machine.RatedOpticalWatts / LargestDiodeWatts);
        return !mayBeDiode || diodes <= UsualDiodes
            ? null
            : new(Codes.WattsLikeSupply, ("watts", In(Unit.Watts, machine.RatedOpticalWatts)), ("diodes", diodes));
    }

    /// <summary>The card would be burned in vain: found out when it is read is too late.</summary>
    private static Advice? Thickness(Plan plan) =>
        plan is { Process: Process.Cut, Material.ThicknessMm: null } ? new(Codes.CutThicknessUntold) : null;

    /// <summary>A focus that a first card chose, and nobody measured.</summary>
    private static Advice? FocusInside(Plan plan) =>
        plan is { Process: Process.Cut, Start: not null, Fixed.FocusOffsetMm: < 0 and double focus }
            ? new(Codes.FocusInside, ("focus", Mm(-focus)), ("deep", Is(-focus > ThinFocusMm)))
            : null;

    private static Advice? Leather(Material material) => MaterialKinds.Find(material.Name) is { IsOfUnknownTanning: true }
        ? new(Codes.LeatherTanning, ("material", material.Name))
        : null;

    private static Advice? Transparent(Plan plan) => MaterialKinds.Find(plan.Material.Name) is not { IsClear: true } ? null
        : plan.Machine.WavelengthNm switch
        {
            null => new(Codes.MaterialTransparent, ("material", plan.Material.Name)),
            >= ClearFromNm and <= ClearToNm and double nm => new(
                Codes.MaterialTransparent, ("material", plan.Material.Name), ("wavelength", In(Unit.Nm, nm))),
            _ => null,
        };

    private static Advice? Mirror(Material material) => MaterialKinds.Find(material.Name) is { IsMirror: true }
        ? new(Codes.MaterialMirror, ("material", material.Name))
        : null;

    private static Advice? LinesApart(Plan plan)
    {
        double widest = plan.Cells.Max(cell => plan.SettingsOf(cell).LineIntervalMm ?? 0);
        return plan.Machine.BeamYMm is { } beam && widest > beam
            ? new(Codes.LinesApart, ("interval", Mm(widest)), ("beam", Mm(beam)))
            : null;
    }

    /// <summary>
    /// Char beside a cell reaches what the cell is compared with, and makes it read too light: docs/method/small-cards.md.
    /// </summary>
    private static Advice? NarrowGap(Plan plan)
    {
        if (plan.Process == Process.Cut || plan.Kind == CardKind.FocusLadder) return null;
        if (MaterialKinds.Find(plan.Material.Name) is not { Chars: true }) return null;
        double gap = Math.Min(LeastGap(plan, cell => (cell.XMm, cell.WidthMm)), LeastGap(plan, cell => (cell.YMm, cell.HeightMm)));
        return gap >= UsualGapMm - 0.01 ? null : new(Codes.GapNarrow, ("gap", Mm(gap)), ("usual", Mm(UsualGapMm)));
    }

    private static double LeastGap(Plan plan, Func<Cell, (double At, double Length)> along)
    {
        (double At, double Length)[] places = [.. plan.Cells.Select(along).DistinctBy(place => place.At).OrderBy(place => place.At)];
        return places.Zip(places.Skip(1), (one, next) => next.At - one.At - one.Length).DefaultIfEmpty(double.PositiveInfinity).Min();
    }

    /// <summary>A file for M3 tells what it costs where the controller's laser mode is off: nobody sees it in the file.</summary>
    private static Advice? BeamSwitch(Machine machine, BurnJob job, BurnEstimate going)
    {
        bool isWritten = MachineLimits.Missing(machine).Length == 0;
        if (!isWritten || machine.BeamMode == BeamMode.FollowsSpeed) return null;
        if (machine.BeamMode == BeamMode.FromRest) return LineEnds(job);
        BurnEstimate stopped = BurnTime.Of(job, machine.RatedOpticalWatts, stopsAtSwitch: true);
        return stopped.Seconds < (1 + NoticedExcess) * going.Seconds ? null
            : new(Codes.BeamSwitch, ("stopped", stopped.Time), ("time", going.Time));
    }

    private static Advice? LineEnds(BurnJob job)
    {
        Piece worst = job.Pieces.Where(piece => piece.Cell is not null).MaxBy(piece => BurnTime.Excess(piece, job.Machine))!;
        double excess = BurnTime.Excess(worst, job.Machine) - 1;
        return excess < NoticedExcess ? null
            : new(Codes.LineEnds, ("speed", Speed(worst.SpeedMmPerMin)), ("excess", Share(excess)));
    }

    private static Advice? RunUp(Plan plan, BurnJob job)
    {
        Piece? worst = job.Pieces.Where(IsAnyShort).MaxBy(piece => piece.SpeedMmPerMin);
        if (worst is null) return null;
        string feed = plan.Machine.FastestFeedMmPerMin is null ? "unknown" : "known";
        Number speed = Speed(worst.SpeedMmPerMin), runUp = Mm(job.Machine.RunUpMm(worst.SpeedMmPerMin));
        return plan.Machine.WorkArea is null
            ? new(Codes.RunUpUnknown, ("speed", speed), ("run-up", runUp), ("feed", feed))
            : new(Codes.RunUpShort, ("speed", speed), ("run-up", runUp), ("constant", Is(plan.Machine.BeamMode == BeamMode.Constant)));

        bool IsAnyShort(Piece piece) => piece.Strokes.Any(stroke => IsShort(stroke, job.Machine.RunUpMm(piece.SpeedMmPerMin)));
    }

    private static bool IsShort(Stroke stroke, double runUpMm) =>
        (!stroke.Segments[0].IsOn && stroke.Start.DistanceTo(stroke.Segments[0].To) < runUpMm)
        || (!stroke.Segments[^1].IsOn && stroke.Segments[^2].To.DistanceTo(stroke.End) < runUpMm);
}
