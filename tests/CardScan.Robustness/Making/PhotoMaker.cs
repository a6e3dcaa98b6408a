using CardScan.Calibration;
using CardScan.Model;
using CardScan.Vision.Tests.BackLight;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>Recipe to photo file: scene, lens, sensor, tone, JPEG.</summary>
internal static class PhotoMaker
{
    /// <summary>Room light against the photo's usual exposure where a lamp stands behind the card.</summary>
    private const double DimRoom = 0.4;

    /// <summary>A channel this much brighter than the luminance is still inside the scale at the usual exposure.</summary>
    private const double SparedChannel = 1.3;

    /// <summary>Luminance of burned marker modules of a cut card against bare.</summary>
    private const double BurnedWood = 0.15;

    /// <summary>Most steps of a tone curve that is looked up.</summary>
    private const int CurveSteps = 4096;

    private static readonly float[] Normals = NormalTable();

    /// <summary>The photo's bytes.</summary>
    public static byte[] Make(Recipe recipe)
    {
        LinearPicture picture = recipe.IsCut ? BackLitRenderer.Render(BackLit(recipe)) : SceneRenderer.Render(RoomOf(recipe));
        double blurPx = recipe.ValueOf(Factors.Blur);
        bool isMotion = recipe.NameOf(Factors.Blur).StartsWith("motion", StringComparison.Ordinal);
        picture.Blur(blurPx, isMotion ? 0.6 : blurPx);
        picture.AddNoise(recipe.ValueOf(Factors.Noise) * BareLuminance(recipe), Normals, recipe.View.NoiseSeed);
        byte[] jpeg = Toned(picture, recipe).ToJpeg((int)recipe.ValueOf(Factors.Jpeg));
        return recipe.NameOf(Factors.FocalLength) == "in the file"
            ? ExifSegment.WithFocalLength(jpeg, (ushort)recipe.View.Camera.FocalLength35Mm)
            : jpeg;
    }

    /// <summary>
    /// The lightest of bare material and marks gets the exposure that was drawn, and less where a channel would stand
    /// out: phones spare them.
    /// </summary>
    private static double BareLuminance(Recipe recipe) =>
        recipe.ValueOf(Factors.Exposure) * (recipe.IsCut ? DimRoom : 1 / Math.Max(1, recipe.Material.Marked))
        / Math.Max(1, recipe.Material.BrightestChannel / SparedChannel);

    private static Scene RoomOf(Recipe recipe)
    {
        (double r, double g, double b) = recipe.Material.Bare;
        double level = 1 / (0.2126 * r + 0.7152 * g + 0.0722 * b);
        Dictionary<Cell, double> darkness = new(recipe.Truth.Plan.Plan.Cells.Zip(recipe.Truth.Darkness, KeyValuePair.Create));
        return new()
        {
            Plan = recipe.Truth.Plan,
            Camera = recipe.View.Camera,
            Bare = (level * r, level * g, level * b),
            MarkerRatio = recipe.IsCut ? BurnedWood : recipe.Material.Marked,
            BurnTint = recipe.Material.BurnTint,
            Darkness = cell => darkness.GetValueOrDefault(cell),
            Light = recipe.View.Light,
            Glare = recipe.View.Glare,
            Covers = recipe.View.Covers,
            MarkerBleedMm = recipe.NameOf(Factors.Card) == "charred markers" ? recipe.ValueOf(Factors.Card) : 0,
            Exposure = BareLuminance(recipe),
        };
    }

    private static BackLitScene BackLit(Recipe recipe)
    {
        Dictionary<Cell, CutCell> cuts = new(recipe.Truth.Plan.Plan.Cells.Zip(recipe.Truth.Cuts, KeyValuePair.Create));
        return new()
        {
            Room = RoomOf(recipe),
            Cut = cell => cuts[cell],
            Lamp = (_, _) => recipe.View.LampLevel,
            BlurPx = 0,
            EdgeSamples = 5,
            ThicknessMm = recipe.Truth.ThicknessMm,
        };
    }

    private static float[] NormalTable()
    {
        Chance chance = new(3);
        return [.. Enumerable.Range(0, 1 << 20).Select(_ => (float)chance.Normal())];
    }

    private static LinearPicture Toned(LinearPicture picture, Recipe recipe)
    {
        double strength = recipe.ValueOf(Factors.Tone);
        return recipe.NameOf(Factors.Tone) switch
        {
            "gentle" or "strong" => picture.Toned(Curve(strength)),
            "local" => picture.LocallyToned(strength, 4 * recipe.ValueOf(Factors.Scale)),
            _ => picture,
        };
    }

    /// <summary>A phone's curve: steeper in the middle of the codes, flatter at both ends.</summary>
    private static Func<double, double> Curve(double strength)
    {
        double[] table = [.. Enumerable.Range(0, CurveSteps + 1).Select(i => Bent((double)i / CurveSteps))];
        return linear =>
        {
            // Steps are even in the root of the light, about as codes are.
            double at = CurveSteps * Math.Sqrt(Math.Clamp(linear, 0, 1));
            int step = Math.Min((int)at, CurveSteps - 1);
            return table[step] + (at - step) * (table[step + 1] - table[step]);
        };

        double Bent(double root)
        {
            double code = Encoded(root * root);
            return Decoded(code + strength * code * (1 - code) * (2 * code - 1));
        }
    }

    /// <summary>IEC 61966-2-1.</summary>
    private static double Encoded(double linear) => linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.Pow(linear, 1 / 2.4) - 0.055;

    private static double Decoded(double code) => code <= 0.04045 ? code / 12.92 : Math.Pow((code + 0.055) / 1.055, 2.4);
}
