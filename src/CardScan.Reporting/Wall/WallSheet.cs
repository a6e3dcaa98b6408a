using System.Text;
using CardScan.Model;
using SkiaSharp;

namespace CardScan.Reporting;

/// <summary>The settings of the archive as a sheet to hang up beside the machine, in type that is read from two steps away.</summary>
/// <remarks>
/// Lengths are millimetres; the same settings, day and paper give the same pages. As few pages as the smallest type needs, in the largest
/// type that gets by with them.
/// </remarks>
internal sealed class WallSheet
{
    private const double PointsPerMm = 72 / 25.4;

    /// <summary>What the file says of itself, so that it is known again.</summary>
    private const string Subject = "cardscan-settings-sheet";

    private const double MarginMm = 14, GoalWidthMm = 42, TitleMm = 11, FooterMm = 3.6, CautionMm = 4, Leading = 1.25;

    /// <summary>Parts of the full size; of the smallest, a setting is still twice as large as print in a book.</summary>
    private static readonly double[] Sizes = [1, 0.9, 0.8, 0.7, 0.62];

    private static readonly SKColor Ink = SKColors.Black, Soft = new(70, 70, 70), Alarm = new(165, 20, 20);

    private static readonly string[] Cautions = ["beam", "fire", "fumes", "rules"];

    private readonly double _widthMm, _heightMm, _size;
    private readonly string _day;
    private readonly List<List<PlacedText>> _pages = [];
    private double _y;

    private WallSheet(Paper paper, string day, double size) => ((_widthMm, _heightMm), _day, _size) = (paper.SizeMm(), day, size);

    private double MaterialMm => 8 * _size;

    private double SettingMm => 8 * _size;

    private double TextMm => 4.4 * _size;

    private double SmallMm => 3.6 * _size;

    private double AboveHeadingMm => 6 * _size;

    private double AboveSettingMm => 2 * _size;

    private double RoomMm => _widthMm - 2 * MarginMm;

    private List<PlacedText> Page => _pages[^1];

    /// <summary>The sheet: as many pages as it needs, the cautions on each.</summary>
    /// <param name="settings">Settings; what is not sure enough to be called one is named and left out.</param>
    /// <param name="day">The day that it is made on.</param>
    /// <param name="paper">The paper.</param>
    public static byte[] Pdf(ValueList<KeptSetting> settings, DateOnly day, Paper paper)
    {
        WallSheet[] sheets = [.. Sizes.Select(size => LaidOut(new(paper, $"{day:yyyy-MM-dd}", size), settings))];
        return sheets.MinBy(sheet => sheet._pages.Count)!.Draw();
    }

    /// <summary>True for a file that <see cref="Pdf"/> made.</summary>
    public static bool IsOne(ReadOnlySpan<byte> file) =>
        file.StartsWith("%PDF"u8) && file.IndexOf(Encoding.ASCII.GetBytes($"({Subject})")) >= 0;

    private static WallSheet LaidOut(WallSheet sheet, ValueList<KeptSetting> settings)
    {
        sheet.LayOut(settings);
        return sheet;
    }

    private void LayOut(ValueList<KeptSetting> settings)
    {
        Begin();
        foreach (IGrouping<(string, string), KeptSetting> kind in settings.Where(setting => setting.IsSetting)
            .GroupBy(setting => (Voice.Tell(setting.Card.MaterialFigure()), Voice.Tell(setting.MachineFigure()))))
        {
            bool isHeaded = false;
            foreach (IGrouping<string, KeptSetting> alike in kind.GroupBy(TextOf))
            {
                PlacedText[] block = [.. BlockOf([.. alike])];
                double heading = isHeaded ? 0 : HeadingHeightMm;
                if (_y + heading + HeightOf(block) > BottomMm) (_, isHeaded) = (Begin(), false);
                if (!isHeaded) Head(kind.Key.Item1, kind.Key.Item2);
                isHeaded = true;
                Place(block);
            }
        }

        KeptSetting[] unsure = [.. settings.Where(setting => !setting.IsSetting)];
        if (unsure.Length == 0) return;
        string names = Voice.Tell(List(unsure.Select(setting => (Figure)new Phrase(
            "book.sheet.unsure", ("material", setting.Card.MaterialFigure()), ("goal", setting.GoalWords())))));
        PlacedText[] left = [.. Lines(Voice.Say("book.sheet.left-out", ("names", names)), 0, RoomMm, TextMm, Soft, 4)];
        if (_y + HeightOf(left) > BottomMm) Begin();
        Place(left);
    }

    /// <summary>A new page, with its title.</summary>
    private bool Begin()
    {
        _pages.Add([]);
        _y = MarginMm;
        Place(Lines(Voice.Say("book.sheet.title"), 0, RoomMm, TitleMm, Ink, 0));
        Place(Lines(Voice.Say("book.sheet.validity", ("day", _day)), 0, RoomMm, CautionMm, Soft, 0));
        return true;
    }

    private double HeadingHeightMm => AboveHeadingMm + (MaterialMm + TextMm) * Leading;

    private void Head(string material, string machine)
    {
        Place(Lines(material, 0, RoomMm, MaterialMm, Ink, AboveHeadingMm).Select((line, i) => line with { HasRule = i == 0 }));
        Place(Lines(machine, 0, RoomMm, TextMm, Soft, 0));
    }

    /// <summary>What is said of a setting beside its goal.</summary>
    private static string TextOf(KeptSetting setting) => string.Join(
        '\n', Voice.Tell(setting.BurnFigure()), Voice.Tell(setting.RestFigure()), RestsOn(setting),
        Voice.Tell(List(setting.Against.Select(other => (Figure)other.ToFigure()))));

    private static string RestsOn(KeptSetting setting) => Voice.Say("book.sheet.rests",
        ("sure", setting.SureFigure(hasInterval: setting.Recommendation.Confidence is null)),
        ("from", setting.FromFigure()), ("confirmed", setting.ConfirmedFigure()));

    /// <summary>A setting: its goals on the left, beside them what is dialled, what else belongs to it, and what it rests on.</summary>
    private IEnumerable<PlacedText> BlockOf(KeptSetting[] alike)
    {
        KeptSetting setting = alike[0];
        double room = RoomMm - GoalWidthMm;
        PlacedText[] goals = [.. alike.SelectMany((each, i) =>
            Lines(each.GoalWords(), 0, GoalWidthMm - 3, TextMm, Ink, i == 0 ? AboveSettingMm + (SettingMm - TextMm) : 0))];
        PlacedText[] told =
        [
            .. Lines(Voice.Tell(setting.BurnFigure()), GoalWidthMm, room, SettingMm, Ink, AboveSettingMm),
            .. Lines(Voice.Tell(setting.RestFigure()), GoalWidthMm, room, TextMm, Ink, 0),
            .. Lines(RestsOn(setting), GoalWidthMm, room, SmallMm, Soft, 0),
            .. setting.Against.SelectMany(other => Lines(Voice.Tell(other.ToFigure()), GoalWidthMm, room, SmallMm, Alarm, 0)),
        ];
        return goals.Select(line => line with { IsBeside = true }).Concat(told);
    }

    /// <summary>A text as lines one below the other.</summary>
    private static IEnumerable<PlacedText> Lines(string text, double indentMm, double roomMm, double sizeMm, SKColor colour, double gapMm)
    {
        foreach ((int i, string line) in Typeface.Lines(Typeface.Writable(text), sizeMm, roomMm).Index())
            yield return new(line, MarginMm + indentMm, 0, sizeMm, colour, i == 0 ? gapMm : 0);
    }

    private static double HeightOf(IEnumerable<PlacedText> lines) =>
        lines.Where(line => !line.IsBeside).Sum(line => line.GapMm + line.SizeMm * Leading);

    /// <summary>Places lines below what is there; those beside it start at the same height.</summary>
    private void Place(IEnumerable<PlacedText> lines)
    {
        double start = _y, beside = _y;
        foreach (PlacedText line in lines)
        {
            ref double y = ref line.IsBeside ? ref beside : ref start;
            y += line.GapMm + line.SizeMm * Leading;
            Page.Add(line with { BaselineMm = y - line.SizeMm * (Leading - 1) });
        }

        _y = Math.Max(start, beside);
    }

    private PlacedText[][] CautionLines => [.. Cautions.Select(which =>
        Lines(Voice.Say("book.sheet.caution", ("which", which)), 4, RoomMm - 8, CautionMm, Ink, 0.8).ToArray())];

    private double CautionHeightMm => CautionLines.Sum(HeightOf) + 6;

    /// <summary>Where the settings of a page end: above the cautions.</summary>
    private double BottomMm => _heightMm - MarginMm - CautionHeightMm - 3 - FooterMm * Leading;

    private byte[] Draw()
    {
        using MemoryStream stream = new();
        using (SKDocument document = SKDocument.CreatePdf(
            stream, new SKDocumentPdfMetadata { Title = Voice.Say("book.sheet.title"), Subject = Subject }))
        {
            for (int i = 0; i < _pages.Count; i++)
            {
                SKCanvas canvas = document.BeginPage((float)(_widthMm * PointsPerMm), (float)(_heightMm * PointsPerMm));
                canvas.Scale((float)PointsPerMm);
                DrawCautions(canvas, i);
                foreach (PlacedText text in _pages[i]) Draw(canvas, text);
                document.EndPage();
            }

            document.Close();
        }

        return stream.ToArray();
    }

    /// <summary>The cautions in a frame at the foot, and which page it is.</summary>
    private void DrawCautions(SKCanvas canvas, int page)
    {
        double top = _heightMm - MarginMm - CautionHeightMm - FooterMm * Leading;
        using SKPaint frame = new() { Color = Ink, IsStroke = true, StrokeWidth = 0.7f, IsAntialias = true };
        canvas.DrawRect((float)MarginMm, (float)top, (float)RoomMm, (float)CautionHeightMm, frame);
        double y = top + 2.4;
        foreach (PlacedText line in CautionLines.SelectMany(lines => lines))
        {
            y += line.GapMm + line.SizeMm * Leading;
            Draw(canvas, line with { BaselineMm = y - line.SizeMm * (Leading - 1) });
        }

        string number = Voice.Say("book.sheet.page", ("page", page + 1), ("pages", _pages.Count));
        Draw(canvas, new(number, MarginMm, _heightMm - MarginMm + 0.5, FooterMm, Soft, 0));
    }

    private void Draw(SKCanvas canvas, PlacedText text)
    {
        using SKFont font = Typeface.Font(text.SizeMm);
        using SKPaint paint = new() { IsAntialias = true, Color = text.Colour };
        if (text.HasRule)
        {
            using SKPaint rule = new() { Color = Soft, StrokeWidth = 0.3f, IsAntialias = true };
            float y = (float)(text.BaselineMm - text.SizeMm - text.GapMm / 3);
            canvas.DrawLine((float)MarginMm, y, (float)(_widthMm - MarginMm), y, rule);
        }

        canvas.DrawText(text.Text, (float)text.XMm, (float)text.BaselineMm, SKTextAlign.Left, font, paint);
    }

    /// <summary>A line of text.</summary>
    /// <param name="Text">The text.</param>
    /// <param name="XMm">Its left edge.</param>
    /// <param name="BaselineMm">Its baseline, once it is placed.</param>
    /// <param name="SizeMm">Size of the type.</param>
    /// <param name="Colour">Its colour.</param>
    /// <param name="GapMm">What is left free above it.</param>
    /// <param name="IsBeside">True for what stands to the left of the other lines.</param>
    /// <param name="HasRule">True where a rule is drawn above it.</param>
    private sealed record PlacedText(
        string Text, double XMm, double BaselineMm, double SizeMm, SKColor Colour, double GapMm, bool IsBeside = false,
        bool HasRule = false);
}
