using System.Text;
using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using OpenCvSharp;

namespace CardScan.Cli.Tests;

public class RawPhotoCommandTests
{
    [Fact]
    public void A_folder_with_a_raw_photo_is_read_and_the_file_kept_as_it_came()
    {
        using Scratch scratch = new();
        byte[] file = BirchAsDng();
        Directory.CreateDirectory(scratch["photos"]);
        File.WriteAllBytes(Path.Combine(scratch["photos"], "IMG_17.DNG"), file);

        CliRun run = Cli.RunIn(scratch["."], "read", scratch["photos"], "--plan", Cli.Plan, "--json");

        Assert.True(run.Code == 0, run.Errors);
        PhotoRecord photo = Assert.Single(CardJson.ReadReading(Encoding.UTF8.GetBytes(run.Output)).Value.Photos);
        Assert.Equal(("IMG_17.DNG", PhotoResponse.Raw), (photo.File, photo.Response!.Source));
        string kept = Assert.Single(Directory.EnumerateFiles(scratch["archive"], "*.dng", SearchOption.AllDirectories));
        Assert.Equal(file, File.ReadAllBytes(kept));
        Assert.Equal(0, Cli.RunIn(scratch["."], "archive", "verify").Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], "archive", "export", scratch["all.zip"]).Code);
        CliRun import = Cli.RunWith(scratch["other"], "archive", "import", scratch["all.zip"]);
        Assert.True(import.Code == 0, import.Errors);
        Assert.Single(Directory.EnumerateFiles(scratch["other"], "*.dng", SearchOption.AllDirectories));
    }

    [Fact]
    public void A_raw_photo_from_standard_input_has_a_name_of_its_kind()
    {
        using Scratch scratch = new();
        byte[] file = BirchAsDng();
        HostEnvironment piping = Cli.In(scratch["."]) with { Piped = () => new MemoryStream(file) };
        CliRun run = Cli.Run(piping, ["read", "-", "--plan", Cli.Plan, "--json"]);

        Assert.True(run.Code == 0, run.Errors);
        Assert.EndsWith(".dng", CardJson.ReadReading(Encoding.UTF8.GetBytes(run.Output)).Value.Photos[0].File, StringComparison.Ordinal);
    }

    private static byte[] BirchAsDng()
    {
        byte[] jpeg = File.ReadAllBytes(Cli.Photo);
        using Mat bgr = Cv2.ImDecode(jpeg, ImreadModes.Color);
        LinearPicture light = new(bgr.Width, bgr.Height);
        for (int y = 0; y < light.Height; y++)
        {
            for (int x = 0; x < light.Width; x++)
            {
                Vec3b codes = bgr.At<Vec3b>(y, x);
                light.Set(x, y, (Linear(codes.Item2), Linear(codes.Item1), Linear(codes.Item0)));
            }
        }

        return new DngFile { Preview = jpeg }.Write(light);

        static double Linear(byte code) => SrgbCurve.Linear(code / 255.0);
    }
}
