using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Whether a photo can be measured, and what is doubtful about it. Thresholds: docs/method, "Photo check".</summary>
internal static class PhotoCheck
{
    /// <summary>Fewest pixels across the smallest cell: its middle 70 % then still has a hundred of them.</summary>
    private const double FewestPxPerCell = 15;

    /// <summary>Most blur, as a share of the smallest cell: beyond it the cell's middle is no longer free of its surroundings.</summary>
    private const double MostBlurShare = 0.06;

    /// <summary>Less plain bare material than this, and the light field follows the blemishes instead.</summary>
    private const double LeastPlainShare = 0.6;

    /// <summary>With this share of the cells at the top of the scale, the few others are close to it too.</summary>
    private const double MostClippedCells = 0.8;

    /// <summary>Darker than this, bare material has so few codes below it that dark marks come in visible steps, linear luminance.</summary>
    private const double LeastLuminance = 0.04;

    /// <summary>A reason not to measure, or null.</summary>
    public static Refusal? Check(Picture picture, SolvedPose solved, Plan plan)
    {
        double cellMm = plan.Cells.Min(cell => Math.Min(cell.WidthMm, cell.HeightMm));
        double cellPx = cellMm * solved.PxPerMm;
        if (cellPx < FewestPxPerCell)
            return Refusal.OfPhoto("too-small", $"a cell is only {cellPx:F0} pixels wide ({solved.PxPerMm:F1} px/mm)", $"go closer or use a camera with more pixels: at least {FewestPxPerCell / cellMm:F1} px/mm are needed");
        if (solved.BlurPx > MostBlurShare * cellPx)
            return Refusal.OfPhoto("blurred", $"edges are spread over {2 * solved.BlurPx / solved.PxPerMm:F2} mm", "hold the phone still, let it focus on the card, and give more light");
        if (!plan.Cells.Any(cell => IsInside(picture, solved.Pose, cell)))
            return Refusal.OfPhoto("cells-outside", "no cell of the card is wholly inside the photo", "take the photo again with the whole card in the frame");
        return null;
    }

    /// <summary>A reason why none of the measured cells can be used, or null.</summary>
    public static Refusal? CheckLight(ValueList<CellReading> cells)
    {
        if (cells.Count(cell => cell.Flags.Contains(CellFlag.Clipped)) >= MostClippedCells * cells.Count)
            return Refusal.OfPhoto("overexposed", "the bare material is at the top of the photo's scale nearly all over the card", "take the photo darker: tap the card on the phone's screen and slide the exposure down");
        return cells.All(cell => cell.Flags.Any(CellFlag.IsDisqualifying))
            ? Refusal.OfPhoto("no-usable-cell", "every cell lies under a reflection, at the top of the photo's scale, or outside the photo", "use soft, even light without reflections, and keep the whole card in the frame")
            : null;
    }

    /// <summary>What to know about a back-lit photo that was measured.</summary>
    public static IEnumerable<Warning> BackLitDoubts(Plan plan, SolvedPose solved)
    {
        if (plan.Material.ThicknessMm is null)
            yield return new("thickness-missing", "The plan does not give the material's thickness, so nobody can tell from where light could have been seen: dark sides stay unseen. Add material.thicknessMm to the plan.");
        if (!solved.Camera.IsFocalKnown)
            yield return new("focal-length-assumed", "The photo does not tell its focal length, so a phone's usual 26 mm equivalent was assumed: viewing angles, and with them which dark sides were judged, are less certain. Give the photo as the phone saved it.");
    }

    /// <summary>What to know about a front-lit photo that was measured.</summary>
    public static IEnumerable<Warning> FrontLitDoubts(LightField light, ValueList<CellReading> cells)
    {
        if (light.PlainShare < LeastPlainShare)
            yield return new("uneven-light", $"Only {light.PlainShare:P0} of the bare material fits one smooth light: shadows, glare or stains lie over the card. Use even, soft light.");
        if (light.MeanLuminance < LeastLuminance)
            yield return new("dark", $"The photo is dark: bare material reaches {light.MeanLuminance:P1} of its scale, where steps are coarse. Give more light.");
        foreach ((string flag, string what) in new[]
        {
            (CellFlag.Glare, "in light that does not fit the rest of the card, a reflection or the edge of a shadow, and are left out: turn the card or the lamp until the light is even"),
            (CellFlag.Clipped, "at the top of the photo's scale and are left out: take the photo a little darker"),
            (CellFlag.OutOfFrame, "outside the photo and are left out: keep the whole card in the frame"),
        })
        {
            int count = cells.Count(cell => cell.Flags.Contains(flag));
            if (count > 0) yield return new($"cells-{flag}", $"{count} of {cells.Count} cells are {what}.");
        }
    }

    private static bool IsInside(Picture picture, CardPose pose, Cell cell) =>
        new[] { (0, 0), (1, 0), (1, 1), (0, 1) }.All(corner =>
        {
            PlanePoint at = pose.ToPhoto(new(cell.XMm + corner.Item1 * cell.WidthMm, cell.YMm + corner.Item2 * cell.HeightMm));
            return picture.Contains(at.X, at.Y);
        });
}
