using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>A short text burned on the card so that it explains itself without the program.</summary>
/// <param name="Text">Only characters of <see cref="StrokeFont"/>.</param>
/// <param name="XMm">Left edge of its box in the card frame, mm.</param>
/// <param name="YMm">Top edge of its box in the card frame, mm.</param>
/// <param name="WidthMm">Width of the box, mm.</param>
/// <param name="HeightMm">Height of the box, mm.</param>
/// <param name="IsUpward">True for a text that is read from below upward, its box standing.</param>
internal sealed record CardLabel(string Text, double XMm, double YMm, double WidthMm, double HeightMm, bool IsUpward = false)
{
    /// <summary>Millimetres a unit of the font.</summary>
    internal double UnitMm => (IsUpward ? WidthMm : HeightMm) / StrokeFont.Height;

    /// <summary>The lines that are burned, each a path through points of the card frame, mm.</summary>
    internal IEnumerable<(double X, double Y)[]> Lines() => StrokeFont.LinesOf(Text).Select(line => line.Select(Placed).ToArray());

    private (double X, double Y) Placed((double X, double Y) point) => IsUpward
        ? (XMm + point.Y * UnitMm, YMm + HeightMm - point.X * UnitMm)
        : (XMm + point.X * UnitMm, YMm + point.Y * UnitMm);
}

/// <summary>Places the labels: axis values beside the grid, axis names and the card's number between the markers.</summary>
internal static class CardLabels
{
    /// <summary>Width of the burned line, mm.</summary>
    internal const double StrokeMm = 0.3;

    private const double TextHeightMm = 2.4;

    /// <summary>Bare material kept between a label and the cells: the light is judged there, mm.</summary>
    private const double CellClearMm = 3;

    /// <summary>
    /// Bare material kept around a marker, mm: one module and more, for its edges are what the camera's pose is solved from.
    /// </summary>
    private const double MarkerClearMm = 2;

    /// <summary>Bare material kept between a label and the next one, or the card's edge, mm.</summary>
    private const double ApartMm = 1.2;

    /// <summary>
    /// Bare material between the rows' upright name and their values: nearly a letter's height, or they run together, mm.
    /// </summary>
    private const double NameClearMm = 2;

    /// <summary>Smaller text cannot be burned legibly, mm.</summary>
    private const double LeastHeightMm = 1.2;

    /// <summary>The labels that have room: a plan laid out elsewhere may leave none for some.</summary>
    internal static IEnumerable<CardLabel> Of(Plan plan)
    {
        IReadOnlyList<Cell> cells = plan.Cells;
        BurnFrame area = BurnFrame.Of(plan);
        double bottom = area.TopMm + area.HeightMm;
        double gridLeft = cells.Min(cell => cell.XMm) - CellClearMm, gridTop = cells.Min(cell => cell.YMm) - CellClearMm;
        LabelArea inner = Inner(plan);
        IEnumerable<CardLabel> labels =
        [
            .. ColumnValues(plan, area, gridTop),
            .. RowValues(plan, area, gridLeft),
            Across(NameOf(plan.Columns.Setting), inner, gridTop - 2 * (TextHeightMm + ApartMm)),
            Upward(NameOf(plan.Rows.Setting), inner, area),
            Across(Drawn("planning.label.card", ("number", plan.Number)), inner, bottom - 2 * (TextHeightMm + ApartMm) - ApartMm),
            Across(FixedText(plan, inner.Right - inner.Left), inner, bottom - TextHeightMm - 2 * ApartMm),
        ];
        return labels.Where(label => HasRoom(label, plan, area));
    }

    private static bool HasRoom(CardLabel label, Plan plan, BurnFrame area)
    {
        double side = plan.Fiducials.SideMm;
        return Math.Min(label.WidthMm, label.HeightMm) >= LeastHeightMm
            && label.XMm >= area.LeftMm + StrokeMm && label.YMm >= area.TopMm + StrokeMm
            && label.XMm + label.WidthMm <= area.LeftMm + area.WidthMm - StrokeMm
            && label.YMm + label.HeightMm <= area.TopMm + area.HeightMm - StrokeMm
            && !plan.Fiducials.Markers.Any(marker => IsNear(label, marker.XMm, marker.YMm, side, side))
            && !plan.Cells.Any(cell => IsNear(label, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm));
    }

    private static bool IsNear(CardLabel label, double x, double y, double width, double height) =>
        label.XMm < x + width + StrokeMm && x < label.XMm + label.WidthMm + StrokeMm
        && label.YMm < y + height + StrokeMm && y < label.YMm + label.HeightMm + StrokeMm;

    /// <summary>The part of the card between the markers, less a bare margin; all of the window where the markers are printed.</summary>
    private static LabelArea Inner(Plan plan)
    {
        if (plan.Frame?.Window is { } window)
        {
            return new(
                window.XMm + MarkerClearMm, window.YMm + MarkerClearMm,
                window.XMm + window.WidthMm - MarkerClearMm, window.YMm + window.HeightMm - MarkerClearMm);
        }

        ValueList<Marker> markers = plan.Fiducials.Markers;
        double side = plan.Fiducials.SideMm;
        return new(
            Math.Max(markers[0].XMm, markers[3].XMm) + side + MarkerClearMm,
            Math.Max(markers[0].YMm, markers[1].YMm) + side + MarkerClearMm,
            Math.Min(markers[1].XMm, markers[2].XMm) - MarkerClearMm,
            Math.Min(markers[2].YMm, markers[3].YMm) - MarkerClearMm);
    }

    private static IEnumerable<CardLabel> ColumnValues(Plan plan, BurnFrame area, double bottomMm)
    {
        foreach (IGrouping<int, Cell> column in plan.Cells.GroupBy(cell => cell.Column))
        {
            Cell top = column.MinBy(cell => cell.YMm)!;
            double center = top.XMm + top.WidthMm / 2;
            double pitch = Pitch(plan.Cells.Select(cell => cell.XMm + cell.WidthMm / 2), center);
            double room = Math.Min(pitch, 2 * (center - area.LeftMm - ApartMm)) - ApartMm;
            string text = ValueOf(plan.Columns, column.Key);
            (double width, double height) = Size(text, room);
            yield return new(text, center - width / 2, bottomMm - height, width, height);
        }
    }

    private static IEnumerable<CardLabel> RowValues(Plan plan, BurnFrame area, double rightMm)
    {
        // The axis name stands upright along the left edge.
        double room = rightMm - (area.LeftMm + ApartMm + TextHeightMm + NameClearMm);
        foreach (IGrouping<int, Cell> row in plan.Cells.GroupBy(cell => cell.Row))
        {
            Cell left = row.MinBy(cell => cell.XMm)!;
            string text = ValueOf(plan.Rows, row.Key);
            (double width, double height) = Size(text, room);
            yield return new(text, rightMm - width, left.YMm + (left.HeightMm - height) / 2, width, height);
        }
    }

    private static CardLabel Across(string text, LabelArea inner, double yMm)
    {
        (double width, double height) = Size(text, inner.Right - inner.Left);
        return new(text, (inner.Left + inner.Right - width) / 2, yMm, width, height);
    }

    private static CardLabel Upward(string text, LabelArea inner, BurnFrame area)
    {
        (double length, double height) = Size(text, inner.Bottom - inner.Top);
        return new(text, area.LeftMm + ApartMm, area.TopMm + (area.HeightMm - length) / 2, height, length, IsUpward: true);
    }

    /// <summary>Size of a text, made smaller where there is no room for it.</summary>
    private static (double WidthMm, double HeightMm) Size(string text, double roomMm)
    {
        double width = StrokeFont.WidthOf(text) * TextHeightMm / StrokeFont.Height;
        double scale = Math.Min(1, roomMm / width);
        return (width * scale, TextHeightMm * scale);
    }

    private static double Pitch(IEnumerable<double> centers, double center) =>
        centers.Select(other => Math.Abs(other - center)).Where(distance => distance > 1e-6).DefaultIfEmpty(double.PositiveInfinity).Min();

    /// <summary>What is the same in every cell: as much of it as has room at a legible size.</summary>
    private static string FixedText(Plan plan, double roomMm)
    {
        CellSettings settings = plan.SettingsOf(plan.Cells[0]);
        IEnumerable<string?> texts = Enum.GetValues<Setting>()
            .Where(setting => setting != plan.Columns.Setting && setting != plan.Rows.Setting)
            .Select(setting => TextOf(setting, settings));
        string[] parts = [Drawn("planning.label.watts", ("watts", Rounded(plan.Machine.RatedOpticalWatts))), .. texts.OfType<string>()];
        return Enumerable.Range(1, parts.Length)
            .Select(count => string.Join("  ", parts[..count]))
            .LastOrDefault(text => Size(text, roomMm).HeightMm >= LeastHeightMm, parts[0]);
    }

    private static string? TextOf(Setting setting, CellSettings settings) => settings.ValueOf(setting) is { } value
        ? Drawn("planning.label.fixed", ("setting", $"{setting}"), ("value", Rounded(value)))
        : null;

    private static string NameOf(Setting setting) => Drawn("planning.label.axis", ("setting", $"{setting}"));

    private static string ValueOf(Axis axis, int index) => Voice.Tell(Rounded(axis.Values[index]));

    /// <summary>As fine as a value is set, and short.</summary>
    private static Number Rounded(double value) => Given(Math.Round(value, 3));

    /// <summary>The words of a label; a sign that the beam cannot draw leaves a gap.</summary>
    private static string Drawn(string code, params IEnumerable<(string Name, Figure Value)> values) =>
        StrokeFont.Drawable(Voice.Say(code, values));

    private readonly record struct LabelArea(double Left, double Top, double Right, double Bottom);
}
