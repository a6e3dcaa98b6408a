using System.Text;
using CardScan.Model;

namespace CardScan.Cli.Tests;

public class ReadCommandTests
{
    [Fact]
    public void A_photo_and_its_plan_give_settings_a_grid_and_a_report()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", scratch["out"]);
        Assert.Equal(0, run.Code);
        Assert.StartsWith("Card 17", run.Output, StringComparison.Ordinal);
        Assert.Contains("\nFastest full mark  ", run.Output, StringComparison.Ordinal);
        Assert.Contains("\n5000\t", run.Output, StringComparison.Ordinal);
        Assert.Equal(["out", "out/annotated.png", "out/cells.csv", "out/reading.json", "out/report.html"], scratch.Files);
        Assert.False(CardJson.ReadReading(File.ReadAllBytes(scratch["out/reading.json"])).IsRefused);
    }

    [Fact]
    public void Json_prints_the_reading_alone_and_writes_no_file()
    {
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--json");
        Assert.Equal(0, run.Code);
        Reading reading = CardJson.ReadReading(Encoding.UTF8.GetBytes(run.Output)).Value;
        Assert.Equal("birch-engrave.jpg", reading.Photos[0].File);
        Assert.Equal(CardJson.Sha256(File.ReadAllBytes(Cli.Photo)), reading.Photos[0].Sha256);
        Assert.Equal(CardJson.Sha256(File.ReadAllBytes(Cli.Plan)), reading.PlanSha256);
        Assert.False(Directory.Exists("card-17"));
    }

    [Fact]
    public void Reading_twice_gives_the_same_files()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", scratch["out"]).Code);
        byte[][] first = [.. scratch.Files.Where(File.Exists).Select(File.ReadAllBytes)];
        Assert.Equal(0, Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", scratch["out"]).Code);
        Assert.Equal(first, scratch.Files.Where(File.Exists).Select(File.ReadAllBytes));
        Assert.Equal(5, scratch.Files.Length);
    }

    [Theory]
    [InlineData("report.html")]
    [InlineData("cells.csv")]
    [InlineData("reading.json")]
    public void A_file_of_somebody_else_is_never_replaced(string name)
    {
        using Scratch scratch = new();
        scratch.Write(name, "mine");
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", Path.GetDirectoryName(scratch[name])!);
        Assert.Equal(2, run.Code);
        Assert.Contains("is already there", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(scratch[name]));
        Assert.Equal([name], scratch.Files);
    }

    public static TheoryData<string, int, string> BadPhotos => new()
    {
        { "empty", 2, "" },
        { "text", 2, "" },
        { "truncated", 2, "" },
        { "one pixel", 3, "" },
        { "huge header", 2, "megapixels" },
        { "missing", 2, "does not exist" },
        { "folder", 2, "There are no photos in" },
    };

    [Theory]
    [MemberData(nameof(BadPhotos))]
    public void A_photo_that_cannot_be_read_ends_in_one_line_a_code_and_no_file(string kind, int code, string says)
    {
        using Scratch scratch = new();
        string photo = BadPhoto(kind, scratch);
        string[] before = scratch.Files;
        CliRun run = Cli.Run("read", photo, "--plan", Cli.Plan, "--out", scratch["out"]);
        Assert.Equal(code, run.Code);
        Assert.Contains(says, run.OnlyLine(), StringComparison.Ordinal);
        Assert.Empty(run.Output);
        Assert.Equal(before, scratch.Files);
    }

    [Fact]
    public void A_plan_of_another_card_is_refused_with_exit_code_3()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run("plan", "--material", "m", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3", "--number",
            "18", "--out", scratch["p"]).Code);
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", scratch["p/plan.json"], "--out", scratch["out"]);
        Assert.Equal(3, run.Code);
        Assert.Contains("17", run.OnlyLine(), StringComparison.Ordinal);
        Assert.False(Directory.Exists(scratch["out"]));
    }

    [Theory]
    [InlineData("{}", "plan.json: $.format is missing")]
    [InlineData("not json", "plan.json: This is not a plan file")]
    public void A_wrong_plan_is_named_with_its_fault(string text, string says)
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", scratch.Write("plan.json", text));
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_picture_given_twice_counts_once_and_is_told()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("read", Cli.Photo, scratch.Write("copy.jpg", File.ReadAllBytes(Cli.Photo)), "--plan", Cli.Plan, "--json");
        Assert.Equal(2, run.Code);
        Assert.Contains("the same picture", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Output, run.Output);
    }

    [Fact]
    public void A_place_that_cannot_be_written_ends_in_exit_code_1()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", Path.Combine(scratch.Write("file", "x"), "below"));
        Assert.Equal(1, run.Code);
        Assert.Contains("cannot write to", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(["file"], scratch.Files);
    }

    [Fact]
    public void A_name_with_square_brackets_is_only_a_name()
    {
        using Scratch scratch = new();
        string photo = scratch.Write("[bold]card [17].jpg", File.ReadAllBytes(Cli.Photo));
        CliRun run = Cli.Run("read", photo, "--plan", Cli.Plan, "--out", scratch["[red]"]);
        Assert.Equal(0, run.Code);
        Assert.Contains(scratch["[red]"], run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_saved_reading_can_be_scored_again_with_another_share()
    {
        using Scratch scratch = new();
        string saved = scratch.Write("reading.json", Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Output);
        CliRun usual = Cli.Run("score", saved, "--json"), lower = Cli.Run("score", saved, "--json", "--full-mark", "80");
        Assert.Equal(0, usual.Code);
        Assert.Equal(File.ReadAllText(saved), usual.Output);
        Assert.True(Speed(lower) > Speed(usual));

        static double Speed(CliRun run) => CardJson.ReadReading(Encoding.UTF8.GetBytes(run.Output)).Value
            .Recommendations.Single(recommendation => recommendation.Goal == Goal.FastestFullMark).SpeedMmPerMin;
    }

    [Fact]
    public void Scoring_again_into_a_folder_tells_that_its_page_has_no_photo()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--out", scratch["out"]).Code);
        CliRun run = Cli.Run("score", scratch["out/reading.json"], "--full-mark", "90", "--out", scratch["out"]);
        Assert.Equal(0, run.Code);
        Assert.Contains("The page shows no photo", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Empty(Cli.Run("score", scratch["out/reading.json"]).Errors);
    }

    [Fact]
    public void A_photo_that_was_to_be_read_as_front_lit_is_not_said_to_have_no_light_behind_it()
    {
        string folder = Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");
        string[] read = ["read", Path.Combine(folder, "lime-cut-front.jpg"), "--plan", Path.Combine(folder, "plan.json"), "--json"];
        string usual = Cli.Run(read).Errors, asked = Cli.Run([.. read, "--light", "front"]).Errors;
        Assert.Contains("no photo shows light from behind", usual, StringComparison.Ordinal);
        Assert.Contains("as you asked", asked, StringComparison.Ordinal);
        Assert.DoesNotContain("no photo shows light from behind", asked, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_card_seen_from_the_front_shows_its_char()
    {
        using Scratch scratch = new();
        string folder = Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");
        CliRun run = Cli.Run("read", Path.Combine(folder, "lime-cut-front.jpg"), "--plan", Path.Combine(folder, "plan.json"),
            "--out", scratch["out"]);
        Assert.Equal(0, run.Code);
        Assert.Matches(@"Char beside the cut, mm; – not measured\n.*\n.*\t0\.[0-9]{2}", run.Output);
        string page = File.ReadAllText(scratch["out/report.html"]);
        Assert.Contains("Number and colour: char beside the cut, mm", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Number and colour: darkness D", page, StringComparison.Ordinal);
    }

    private static string BadPhoto(string kind, Scratch scratch)
    {
        byte[] good = File.ReadAllBytes(Cli.Photo);
        switch (kind)
        {
            case "empty": return scratch.Write("photo.jpg", Array.Empty<byte>());
            case "text": return scratch.Write("photo.jpg", "This is not a picture.");
            case "truncated": return scratch.Write("photo.jpg", good[..(good.Length / 2)]);
            case "one pixel": return scratch.Write("photo.png", Png(1, 1));
            case "huge header": return scratch.Write("photo.png", Png(30_000, 30_000));
            case "missing": return scratch["nothing.jpg"];
            default: return Directory.CreateDirectory(scratch["folder.jpg"]).FullName;
        }
    }

    /// <summary>A PNG (W3C PNG specification) whose header tells a size; its pixels are those of one black dot.</summary>
    private static byte[] Png(uint width, uint height)
    {
        byte[] header = [.. Big(width), .. Big(height), 8, 0, 0, 0, 0];
        using MemoryStream packed = new();
        using (System.IO.Compression.ZLibStream zip = new(packed, System.IO.Compression.CompressionLevel.Optimal, leaveOpen: true))
            zip.Write([0, 0]);
        return [137, 80, 78, 71, 13, 10, 26, 10, .. Chunk("IHDR", header), .. Chunk("IDAT", packed.ToArray()), .. Chunk("IEND", [])];

        static byte[] Chunk(string type, byte[] data)
        {
            byte[] named = [.. Encoding.ASCII.GetBytes(type), .. data];
            return [.. Big((uint)data.Length), .. named, .. Big(Crc(named))];
        }

        static byte[] Big(uint value) => [(byte)(value >> 24), (byte)(value >> 16), (byte)(value >> 8), (byte)value];

        static uint Crc(byte[] bytes)
        {
            uint crc = uint.MaxValue;
            foreach (byte b in bytes)
            {
                crc ^= b;
                for (int i = 0; i < 8; i++) crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
            }

            return ~crc;
        }
    }
}
