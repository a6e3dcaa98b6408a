using System.Globalization;
using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>
/// A card burned stroke by stroke from its machine file, by a machine whose axes have play and whose beam may switch late.
/// </summary>
/// <remarks>
/// Play is a dead band: the head stands still until the drive has crossed it, and then lags by half of it. What a stroke
/// leaves is a strip of the beam's width; the strongest stroke over a place counts.
/// </remarks>
internal sealed class BurnedCard
{
    private const double PxPerMm = 40, BeamMm = 0.1;

    private readonly Plan _plan;
    private readonly int _width, _height;
    private readonly float[] _darkness;

    private BurnedCard(Plan plan)
    {
        _plan = plan;
        (_width, _height) = ((int)(plan.Card.WidthMm * PxPerMm), (int)(plan.Card.HeightMm * PxPerMm));
        _darkness = new float[_width * _height];
    }

    /// <summary>Burns a file.</summary>
    /// <param name="plan">The file's plan.</param>
    /// <param name="machineFile">RS-274 words, as the planner writes them.</param>
    /// <param name="playXMm">Play along x, mm.</param>
    /// <param name="playYMm">Play along y, mm.</param>
    /// <param name="lateS">The beam switches on and off this much late, s.</param>
    public static BurnedCard Of(Plan plan, string machineFile, double playXMm = 0, double playYMm = 0, double lateS = 0)
    {
        BurnedCard card = new(plan);
        (double x, double y, double headX, double headY, double feed) = (0, 0, 0, 0, 1000);
        foreach (string line in machineFile.Split('\n'))
        {
            string[] words = line.StartsWith('(') ? [] : line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            if (words is not ["G0" or "G1", ..]) continue;
            (double fromX, double fromY) = (headX, headY);
            (x, y, feed) = (Word('X') ?? x, Word('Y') ?? y, Word('F') ?? feed);
            (headX, headY) = (Follow(headX, x, playXMm), Follow(headY, y, playYMm));
            if (words[0] == "G1" && Word('S') is > 0 and { } power)
            {
                double late = Math.Sign(headX - fromX) * feed / 60 * lateS;
                card.Burn(fromX + late, fromY, headX + late, headY, DarknessOf(power / plan.Machine.FullPowerS!.Value, feed));
            }

            double? Word(char letter) => words.FirstOrDefault(word => word[0] == letter) is { } word
                ? double.Parse(word.AsSpan(1), CultureInfo.InvariantCulture)
                : null;
        }

        return card;
    }

    /// <summary>The photo of a scene that has this card in the place of its own.</summary>
    public LinearPicture Photo(Scene scene)
    {
        LinearPicture picture = new(scene.Camera.WidthPx, scene.Camera.HeightPx);
        const int samples = 3;
        Parallel.For(0, picture.Height, y =>
        {
            for (int x = 0; x < picture.Width; x++)
            {
                double light = 0, table = 0;
                for (int i = 0; i < samples * samples; i++)
                {
                    (double cardX, double cardY) = scene.Camera.ToCard(
                        x - 0.5 + (i % samples + 0.5) / samples, y - 0.5 + (i / samples + 0.5) / samples);
                    if (cardX < 0 || cardY < 0 || cardX >= _plan.Card.WidthMm || cardY >= _plan.Card.HeightMm) table++;
                    else light += scene.Light(cardX, cardY) * Math.Pow(10, -DarknessAt(cardX, cardY));
                }

                const double share = 1.0 / (samples * samples);
                (double r, double g, double b) = scene.Bare;
                double dark = 0.12 * table;
                picture.Set(x, y, ((r * light + dark) * share, (g * light + dark) * share, (b * light + dark) * share));
            }
        });
        if (scene.BlurPx > 0) picture.Blur(scene.BlurPx);
        if (scene.MotionPx > 0) picture.Blur(scene.MotionPx, 0.01);
        if (scene.Noise > 0) picture.AddNoise(scene.Noise);
        return picture;
    }

    private double DarknessAt(double xMm, double yMm) => _darkness[(int)(yMm * PxPerMm) * _width + (int)(xMm * PxPerMm)];

    private static double Follow(double head, double drive, double play) => Math.Clamp(head, drive - play / 2, drive + play / 2);

    /// <summary>A saturating mark: full where slow and strong.</summary>
    private static double DarknessOf(double share, double mmPerMin) => 0.9 * (1 - Math.Exp(-share * 3000 / mmPerMin));

    private void Burn(double fromX, double fromY, double toX, double toY, double darkness)
    {
        // The machine's y runs away from the front, the card's down.
        (fromY, toY) = (_plan.Card.HeightMm - fromY, _plan.Card.HeightMm - toY);
        if (Math.Abs(toY - fromY) > 1e-6 && Math.Abs(toX - fromX) > 1e-6)
        {
            int steps = (int)Math.Ceiling(Math.Max(Math.Abs(toX - fromX), Math.Abs(toY - fromY)) * PxPerMm);
            for (int i = 0; i < steps; i++) Stamp(fromX + (toX - fromX) * i / steps, fromY + (toY - fromY) * i / steps, 0, 0);
        }
        else
        {
            Stamp(Math.Min(fromX, toX), Math.Min(fromY, toY), Math.Abs(toX - fromX), Math.Abs(toY - fromY));
        }

        void Stamp(double x, double y, double width, double height)
        {
            // Lines along x end where the beam's middle does: what the beam is wide there is the bleed of every mark.
            double alongX = width > 0 ? 0 : BeamMm / 2, alongY = height > 0 ? 0 : BeamMm / 2;
            int left = (int)Math.Round((x - alongX) * PxPerMm), right = (int)Math.Round((x + width + alongX) * PxPerMm);
            int top = (int)Math.Round((y - alongY) * PxPerMm), bottom = (int)Math.Round((y + height + alongY) * PxPerMm);
            for (int row = Math.Max(0, top); row < Math.Min(_height, bottom); row++)
                for (int column = Math.Max(0, left); column < Math.Min(_width, right); column++)
                    _darkness[row * _width + column] = Math.Max(_darkness[row * _width + column], (float)darkness);
        }
    }
}
