using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// What of a reading stands in tables of its own, to be searched: cells and recommendations. The reading itself is its JSON
/// text.
/// </summary>
internal static class ReadingRows
{
    /// <summary>Puts the rows of a reading.</summary>
    public static void Put(Database database, long id, Reading reading)
    {
        using RowWriter cells = new(database, "cell",
            "reading_id", "row", "column", "power_percent", "speed_mm_per_min", "passes", "focus_offset_mm", "line_interval_mm", "dose",
            "darkness", "darkness_standard_error", "contrast", "delta_e2000", "evenness", "halo_mm",
            "through", "left_state", "right_state", "top_state", "bottom_state", "flags");
        foreach (CellReading cell in reading.Cells)
        {
            (CellSettings settings, Sides? sides) = (cell.Settings, cell.Sides);
            cells.Put(
                id, cell.Row, cell.Column, settings.PowerPercent, settings.SpeedMmPerMin, settings.Passes, settings.FocusOffsetMm,
                LineIntervalMm(reading, settings), cell.Dose?.Value,
                cell.Darkness?.Value, cell.Darkness?.StandardError, cell.Contrast?.Value, cell.DeltaE2000?.Value,
                cell.Evenness?.Value, cell.HaloMm?.Value,
                EnumName.Of(cell.Through), EnumName.Of(sides?.Left.State), EnumName.Of(sides?.Right.State),
                EnumName.Of(sides?.Top.State), EnumName.Of(sides?.Bottom.State),
                cell.Flags.Count == 0 ? null : string.Join(' ', cell.Flags));
        }

        using IDisposable told = Voice.WriteFiles();
        using RowWriter recommendations = new(database, "recommendation",
            "reading_id", "position", "goal", "power_percent", "speed_mm_per_min", "cell_row", "cell_column", "reason", "confidence",
            "interval_quantity", "interval_value", "interval_low", "interval_high",
            "earlier_card", "earlier_passes", "earlier_focus_offset_mm", "earlier_line_interval_mm");
        foreach ((int i, Recommendation recommendation) in reading.Recommendations.Index())
        {
            (CellAddress? cell, Interval? interval) = (recommendation.Cell, recommendation.Interval);
            CellSettings? earlier = recommendation.Card is null ? null : recommendation.EarlierCell?.Settings;
            recommendations.Put(
                id, i, recommendation.Goal, recommendation.PowerPercent, recommendation.SpeedMmPerMin, cell?.Row, cell?.Column,
                recommendation.Reason, recommendation.Confidence,
                interval?.Quantity, interval?.Value, interval?.Low, interval?.High,
                recommendation.Card, earlier?.Passes, earlier?.FocusOffsetMm, earlier is null ? null : LineIntervalMm(reading, earlier));
        }
    }

    /// <summary>A cut has no lines beside each other, whatever its plan says.</summary>
    private static double? LineIntervalMm(Reading reading, CellSettings settings) =>
        reading.Plan.Process == Process.Cut ? null : settings.LineIntervalMm;

    /// <summary>Takes the rows of a reading away, to be put anew.</summary>
    public static void Delete(Database database, long id) =>
        database.Execute("DELETE FROM cell WHERE reading_id = @id; DELETE FROM recommendation WHERE reading_id = @id", ("id", id));
}
