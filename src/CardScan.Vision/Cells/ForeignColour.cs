namespace CardScan.Vision;

/// <summary>Things that lie on the card, by their colour.</summary>
/// <remarks>
/// All marks of one material lie on one curve of colour against darkness: bare, scorched, black. What lies off it was not burned. Only
/// what has the card's own colours (another piece of the same wood) is not seen. docs/method/vision.md, "Cells".
/// </remarks>
internal static class ForeignColour
{
    /// <summary>A block is off the curve by at least this much in red or blue over luminance, natural log …</summary>
    private const double LeastDistance = 0.3;

    /// <summary>… and by this many of the blocks' own deviations from it.</summary>
    private const double LeastDeviations = 7;

    /// <summary>A speck of fewer blocks moves no mean.</summary>
    private const double LeastShare = 0.03;

    /// <summary>Light below this is mostly noise, and has no colour; raw photos are not smoothed.</summary>
    private const double LeastLuminance = 0.004, LeastRawLuminance = 0.02;

    private const int Rounds = 10;

    /// <summary>Tells the cells that something lies over.</summary>
    /// <param name="cells">The blocks of each cell.</param>
    /// <param name="light">The card's light.</param>
    /// <param name="isRaw">True for a raw photo.</param>
    /// <returns>True for each cell that has foreign colours on it.</returns>
    public static bool[] Over(IReadOnlyList<Patch[,]> cells, LightField light, bool isRaw)
    {
        double least = isRaw ? LeastRawLuminance : LeastLuminance;
        Block[][] blocks = [.. cells.Select(cell => cell.Cast<Patch>().Where(patch => patch.SeenShare == 1 && patch.ClippedShare == 0
            && patch.Rgb.Luminance > least).Select(patch => Block.Of(patch, light)).ToArray())];
        Block[] all = [.. blocks.SelectMany(cell => cell)];
        if (all.Length < 2 * Block.Terms) return new bool[cells.Count];
        ColourCurve red = ColourCurve.Through(all, block => block.Red), blue = ColourCurve.Through(all, block => block.Blue);
        double[] foreign = [.. blocks.Select((cell, i) =>
            cell.Count(block => red.IsOff(block, block.Red) || blue.IsOff(block, block.Blue)) / (double)cells[i].Length)];
        // A thing's edge runs through some cell. Where each is of one colour all over, the laser made it: tempered steel turns blue.
        bool hasEdge = foreign.Any(share => share is > LeastShare and < 1 - LeastShare);
        return [.. foreign.Select(share => hasEdge && share > LeastShare)];
    }

    /// <summary>A block's place on the curve, and its colour.</summary>
    /// <param name="Basis">1, depth, depth²: by how much it is darker than bare material, natural log.</param>
    /// <param name="Red">Red over luminance, natural log.</param>
    /// <param name="Blue">Blue over luminance, natural log.</param>
    private readonly record struct Block(double[] Basis, double Red, double Blue)
    {
        public const int Terms = 3;

        public static Block Of(Patch patch, LightField light)
        {
            double depth = light.LogLuminanceAt(patch.Centre) - patch.LogLuminance;
            return new([1, depth, depth * depth], LogOver(patch.Rgb.R), LogOver(patch.Rgb.B));

            double LogOver(double channel) => Math.Log(Math.Max(channel, LeastLuminance / 4) / patch.Rgb.Luminance);
        }
    }

    /// <summary>A parabola through the blocks' colours that a few foreign ones do not move (Tukey's biweight).</summary>
    private sealed record ColourCurve(double[] Terms, double Reach)
    {
        public static ColourCurve Through(Block[] blocks, Func<Block, double> colourOf)
        {
            double[][] rows = [.. blocks.Select(block => block.Basis)];
            double[] colours = [.. blocks.Select(colourOf)], weights = [.. blocks.Select(_ => 1.0)];
            double deviation = 0;
            double[] terms = [];
            for (int round = 0; round < Rounds; round++)
            {
                terms = LeastSquares.SolveWeighted(rows, colours, weights);
                double[] off = [.. rows.Select((row, i) => colours[i] - At(terms, row))];
                deviation = Robust.Deviation(off);
                for (int i = 0; i < off.Length; i++) weights[i] = Robust.Biweight(off[i], Robust.UsualReach * Math.Max(deviation, 1e-6));
            }

            return new(terms, Math.Max(LeastDistance, LeastDeviations * deviation));
        }

        public bool IsOff(Block block, double colour) => Math.Abs(colour - At(Terms, block.Basis)) > Reach;

        private static double At(double[] terms, double[] basis)
        {
            // By hand: with LINQ, this alone took a seventh of the time of an engraved card's cells.
            double sum = 0;
            for (int i = 0; i < terms.Length; i++) sum += terms[i] * basis[i];
            return sum;
        }
    }
}
