using System.Diagnostics;
using Microsoft.Playwright;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.PixelFormats;
using Process = System.Diagnostics.Process;

namespace CardScan.Web.Tests;

/// <summary>A page on paper, as the browser prints it and Poppler's programs see it.</summary>
internal static class Printed
{
    private const int DotsPerInch = 50;

    /// <summary>Nothing is printed nearer to the edge, mm: printers cut it off.</summary>
    private const double EdgeMm = 8;

    /// <summary>Prints a page; fails where something is to be pressed or typed in there, or stands at the edge of the paper.</summary>
    /// <param name="page">The page.</param>
    /// <param name="file">The PDF to write.</param>
    /// <returns>What stands on the paper, and the number of sheets.</returns>
    public static async Task<(string Text, int Pages)> Of(IPage page, string file)
    {
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        ILocator pressed = page.Locator("button, input, select, textarea, a.button, summary").Filter(new() { Visible = true });
        Assert.Equal(0, await pressed.CountAsync());
        await page.EmulateMediaAsync(new() { Media = Media.Null });
        await page.PdfAsync(new() { Path = file, PreferCSSPageSize = true, PrintBackground = true });
        string sheets = Path.ChangeExtension(file, null);
        await Run("pdftoppm", "-r", $"{DotsPerInch}", "-gray", "-png", file, sheets);
        string[] pictures = Directory.GetFiles(Path.GetDirectoryName(sheets)!, $"{Path.GetFileName(sheets)}-*.png");
        foreach (string picture in pictures) CheckEdges(picture);
        if (Environment.GetEnvironmentVariable("CARDSCAN_SHOW_PAGES") is { } shown)
            File.Copy(file, Path.Combine(shown, Path.GetFileName(file)), overwrite: true);
        string text = await Run("pdftotext", "-layout", file, "-");
        return (text.Replace('\u00a0', ' '), pictures.Length);
    }

    /// <summary>How often words stand in a text, however its lines are broken.</summary>
    public static int Count(string text, string words)
    {
        string line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return line.Split(words, StringSplitOptions.None).Length - 1;
    }

    private static void CheckEdges(string file)
    {
        using Image<L8> sheet = Image.Load<L8>(file);
        int edge = (int)(EdgeMm / 25.4 * DotsPerInch);
        for (int y = 0; y < sheet.Height; y++)
        {
            for (int x = 0; x < sheet.Width; x++)
            {
                bool isInside = x >= edge && x < sheet.Width - edge && y >= edge && y < sheet.Height - edge;
                Assert.True(isInside || sheet[x, y].PackedValue == byte.MaxValue, $"{Path.GetFileName(file)}: something at {x}, {y}");
            }
        }
    }

    private static async Task<string> Run(string program, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments)
        {
            RedirectStandardOutput = true, UseShellExecute = false,
        })!;
        string output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.Equal(0, process.ExitCode);
        return output;
    }
}
