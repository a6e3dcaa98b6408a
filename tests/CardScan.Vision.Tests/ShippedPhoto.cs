using SixLabors.ImageSharp;
using SixLabors.ImageSharp.PixelFormats;

namespace CardScan.Vision.Tests;

/// <summary>Photos in fixtures/ that the renderer made: they must stay what it makes.</summary>
internal static class ShippedPhoto
{
    /// <summary>The two are the same picture, but for what a JPEG encoder may do.</summary>
    /// <param name="shipped">The shipped file's bytes.</param>
    /// <param name="rendered">Bytes of the picture rendered anew.</param>
    public static void AssertIs(byte[] shipped, byte[] rendered)
    {
        using Image<L8> old = Image.Load<L8>(shipped);
        using Image<L8> made = Image.Load<L8>(rendered);

        Assert.Equal((old.Width, old.Height), (made.Width, made.Height));
        double apart = 0;
        for (int y = 0; y < old.Height; y++)
            for (int x = 0; x < old.Width; x++) apart += Math.Abs(old[x, y].PackedValue - made[x, y].PackedValue);
        Assert.InRange(apart / (old.Width * old.Height), 0, 0.5);
    }
}
