using System.Text;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

/// <summary>The sheet for the wall: its pages, its paper, and what it leaves out.</summary>
public partial class WallSheetTests
{
    private static readonly DateOnly Day = new(2026, 11, 30);

    [Theory] // A4 of ISO 216 and 8.5 × 11 inches, in points of 1/72 inch, as the library rounds them.
    [InlineData(Paper.A4, "595 842")]
    [InlineData(Paper.Letter, "612 792")]
    public void A_few_settings_fit_on_one_page_of_the_paper_that_was_asked_for(Paper paper, string size)
    {
        string pdf = Latin(CardReport.SettingsPdf([.. Enumerable.Range(1, 3).Select(i => Setting($"wood {i}"))], Day, paper));
        Assert.Equal([$"0 0 {size}"], Pages().Matches(pdf).Select(match => match.Groups["box"].Value));
    }

    /// <summary>In type of full size, four go onto a page.</summary>
    [Fact]
    public void More_settings_are_set_smaller_before_they_go_onto_further_pages()
    {
        Assert.Equal(1, PagesOf([.. Enumerable.Range(1, 6).Select(i => Setting($"wood {i}"))]));
        Assert.Equal(7, PagesOf([.. Enumerable.Range(1, 40).Select(i => Setting($"wood {i}"))]));
    }

    [Fact]
    public void Goals_that_have_one_setting_share_its_place()
    {
        KeptSetting[] sure = [.. Enumerable.Range(1, 6).Select(i => Setting($"wood {i}"))];
        IEnumerable<KeptSetting> both = sure.SelectMany(setting => new[]
        {
            setting, setting with { Recommendation = setting.Recommendation with { Goal = Goal.CleanCut } },
        });

        Assert.Equal(1, PagesOf([.. both]));
        Assert.NotEqual(CardReport.SettingsPdf([.. sure], Day, Paper.A4), CardReport.SettingsPdf([.. both], Day, Paper.A4));
    }

    [Fact]
    public void The_same_settings_and_day_give_the_same_sheet()
    {
        byte[] sheet = CardReport.SettingsPdf([Setting("birch")], Day, Paper.A4);
        Assert.Equal(sheet, CardReport.SettingsPdf([Setting("birch")], Day, Paper.A4));
        Assert.NotEqual(sheet, CardReport.SettingsPdf([Setting("birch")], Day.AddDays(1), Paper.A4));
    }

    [Fact]
    public void A_sheet_is_known_again_and_nothing_else_is_one()
    {
        byte[] sheet = CardReport.SettingsPdf([Setting("birch")], Day, Paper.A4);
        Assert.True(CardReport.IsSettingsPdf(sheet));
        Assert.False(CardReport.IsSettingsPdf("%PDF-1.4 (cardscan settings)"u8));
        Assert.False(CardReport.IsSettingsPdf(sheet.AsSpan(1)));
    }

    [Fact]
    public void What_is_not_sure_makes_no_sheet_and_is_named_beside_what_is()
    {
        KeptSetting unsure = Setting("oak") with { Standing = SettingStanding.Unsure };
        Assert.Throws<ArgumentException>(() => CardReport.SettingsPdf([unsure], Day, Paper.A4));
        Assert.NotEqual(
            CardReport.SettingsPdf([Setting("birch")], Day, Paper.A4), CardReport.SettingsPdf([Setting("birch"), unsure], Day, Paper.A4));
    }

    [Fact]
    public void The_table_has_a_line_a_setting_and_runs_nothing_in_a_spreadsheet()
    {
        string[] lines = CardReport.SettingsCsv([Setting("birch"), Setting("=1+1")]).Split("\r\n");
        Assert.Equal(4, lines.Length);
        Assert.StartsWith("birch,3,bench,10,455,cut,sure-cut,sure,80,600,10,2,,-1,on,0.97,17,B-1,r1,2026-11-28T00:00:00Z,r2,", lines[1],
            StringComparison.Ordinal);
        Assert.Contains(
            "An older card of batch B-2 differs: 900 mm/min at 80 % (card 3, 2026-11-01, r3).", lines[1], StringComparison.Ordinal);
        Assert.DoesNotContain("\n=1+1", string.Join('\n', lines), StringComparison.Ordinal);
    }

    private static KeptSetting Setting(string material)
    {
        DateTimeOffset read = new(2026, 11, 28, 0, 0, 0, TimeSpan.Zero);
        return new()
        {
            Card = new()
            {
                Id = 1, Number = 17, Title = "", Process = Process.Cut, Material = material, ThicknessMm = 3, Batch = "B-1",
                Machine = "bench", RatedOpticalWatts = 10, KeptUtc = read, Readings = 1,
            },
            Machine = new() { Name = "bench", RatedOpticalWatts = 10, WavelengthNm = 455 },
            Air = new() { IsOn = true },
            ReadingId = 1,
            ReadUtc = read,
            Recommendation = new()
            {
                Goal = Goal.SureCut, PowerPercent = 80, SpeedMmPerMin = 600, Passes = 2, FocusOffsetMm = -1, Reason = "r",
                Confidence = 0.97, Interval = new("probabilityThrough", 0.97, 0.93, 0.99),
            },
            Standing = SettingStanding.Sure,
            Others =
            [
                new()
                {
                    Number = 19, Batch = "B-1", ReadingId = 2, ReadUtc = read.AddDays(-1), Opinion = CardOpinion.Agrees, IsNewer = false,
                    IsSameBatch = true, Setting = (650, 80),
                },
                new()
                {
                    Number = 3, Batch = "B-2", ReadingId = 3, ReadUtc = new(2026, 11, 1, 0, 0, 0, TimeSpan.Zero),
                    Opinion = CardOpinion.Differs, IsNewer = false, IsSameBatch = false, Setting = (900, 80),
                },
            ],
        };
    }

    private static int PagesOf(ValueList<KeptSetting> settings) =>
        Pages().Count(Latin(CardReport.SettingsPdf(settings, Day, Paper.A4)));

    private static string Latin(byte[] pdf) => Encoding.Latin1.GetString(pdf);

    [GeneratedRegex(@"/MediaBox \[(?<box>[0-9. ]+)\]")]
    private static partial Regex Pages();
}
