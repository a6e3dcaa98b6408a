using CardScan.Language;
using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Everything a plan burns, in order: the markers and labels first, so that even an interrupted card says which it is.</summary>
/// <param name="Frame">What lies on the machine.</param>
/// <param name="Machine">The machine.</param>
/// <param name="Pieces">The pieces, in the order of burning.</param>
internal sealed record BurnJob(BurnFrame Frame, MachineNeeds Machine, ValueList<Piece> Pieces)
{
    /// <param name="plan">A plan that says how it is burned (<see cref="Plan.Burning"/>).</param>
    internal static BurnJob Of(Plan plan)
    {
        BurnFrame frame = BurnFrame.Of(plan);
        MachineNeeds machine = MachineNeeds.Of(plan.Machine);
        StrokeMaker maker = new(frame, machine);
        IEnumerable<Piece> cells = plan.Burning!.Order.Select((i, place) => CellPiece(plan, plan.Cells[i], maker) with
        {
            PauseBeforeS = place == 0 ? 0 : plan.Burning.CellPauseS ?? 0,
        });
        Piece[] pieces = [.. Markers(plan, maker), .. Labels(plan, maker), .. cells];
        return new(frame, machine, pieces.Select(piece => Switched(piece, machine)).ToValueList());
    }

    /// <summary>Where a switched beam stops the machine, the path rests there anyway: it is burned stretch by stretch.</summary>
    private static Piece Switched(Piece piece, MachineNeeds machine) => machine.Mode != BeamMode.FromRest
        ? piece
        : piece with { Strokes = piece.Strokes.SelectMany(stroke => stroke.BurningStretches()).ToValueList() };

    /// <summary>Where the focus is for markers and labels.</summary>
    internal static double MarkFocusMm(Plan plan) =>
        plan.Columns.Setting == Setting.FocusOffsetMm || plan.Rows.Setting == Setting.FocusOffsetMm ? 0 : plan.Fixed.FocusOffsetMm ?? 0;

    private static IEnumerable<Piece> Markers(Plan plan, StrokeMaker maker)
    {
        MarkSetting marks = plan.Burning!.Marks;
        return BurnFrame.BurnedMarkers(plan).Select(marker => new Piece(
            Voice.Say("planning.machine-file.marker", ("id", marker.Id)), null, IsFill: true,
            marks.PowerPercent, marks.SpeedMmPerMin, MarkFocusMm(plan),
            maker.Marker(marker, plan.Fiducials.SideMm, marks.LineIntervalMm!.Value, marks.SpeedMmPerMin).ToValueList()));
    }

    private static IEnumerable<Piece> Labels(Plan plan, StrokeMaker maker)
    {
        MarkSetting marks = plan.Burning!.Marks;
        return CardLabels.Of(plan).Select(label => new Piece(
            Voice.Say("planning.machine-file.label", ("text", label.Text)), null, IsFill: false,
            marks.PowerPercent, marks.SpeedMmPerMin, MarkFocusMm(plan),
            label.Lines().Select(line => maker.Through([.. line.Select(point => (point.X, point.Y, true))])).ToValueList()));
    }

    private static Piece CellPiece(Plan plan, Cell cell, StrokeMaker maker)
    {
        CellSettings settings = plan.SettingsOf(cell);
        return new(
            Voice.Say("planning.machine-file.cell", ("row", cell.Row + 1), ("column", cell.Column + 1)), cell, IsFilled(plan, cell),
            settings.PowerPercent, settings.SpeedMmPerMin, settings.FocusOffsetMm,
            CellStrokes(plan, cell, settings, maker).ToValueList())
        {
            Passes = settings.Passes, FocusStepMm = plan.Fixed.FocusStepMm ?? 0, PassPauseS = plan.Fixed.PassPauseS ?? 0,
        };
    }

    private static bool IsFilled(Plan plan, Cell cell) => plan.Process == Process.Engrave && cell.Lines is null;

    private static IEnumerable<Stroke> CellStrokes(Plan plan, Cell cell, CellSettings settings, StrokeMaker maker)
    {
        if (cell.Lines is { } lines) return lines.Select(line => maker.Line(line, settings.SpeedMmPerMin));
        return plan.Process == Process.Cut
            ? [maker.Through(CellOutline.Of(cell))]
            : maker.Fill(cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm, settings.LineIntervalMm!.Value, settings.SpeedMmPerMin);
    }
}
