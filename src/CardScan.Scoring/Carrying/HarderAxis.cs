using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Carrying;

/// <summary>What a machine with another beam needs for cuts that are through whichever way they run.</summary>
/// <remarks>
/// A diode's beam is no circle: sides along one axis need more energy than those along the other, and on another machine by another
/// factor, or along the other axis. docs/method/carrying.md, "Beam by axis".
/// </remarks>
public static class HarderAxis
{
    private static readonly SideReading Unseen = new() { State = SideState.Unseen };

    /// <summary>
    /// Energy that the later card needs along its harder axis, over what the first needs along its own; null where the cards do not tell
    /// their axes apart, or are of another shape along one axis, too.
    /// </summary>
    /// <param name="first">The old machine's card.</param>
    /// <param name="later">The new one's.</param>
    /// <exception cref="ArgumentNullException">A reading is missing.</exception>
    public static RelativeDose? Compare(Reading first, Reading later)
    {
        if (AlongYToX(first) is not { } old || AlongYToX(later) is not { } now) return null;
        bool isAlongY = now.Value > 1;
        Outcome<Comparison> compared =
            CardComparer.Compare([new("first", Along(first, isAlongY)), new("later", Along(later, isAlongY))], new());
        if (compared.IsRefused || compared.Value.Pairs[0].RelativeDose is not { } dose) return null;
        return old.Value > 1 == isAlongY ? dose : OverHarder(dose, old);
    }

    /// <summary>Over the first's other axis, which needs more than this one.</summary>
    private static RelativeDose OverHarder(RelativeDose dose, Measured old)
    {
        double ln = Math.Log(dose.Value) - Math.Abs(Math.Log(old.Value)), ratio = NormalQuantile.TwoSided95 * old.StandardError / old.Value;
        return dose with
        {
            Value = Math.Exp(ln),
            Low = Math.Exp(ln - double.Hypot(Math.Log(dose.Value / dose.Low), ratio)),
            High = Math.Exp(ln + double.Hypot(Math.Log(dose.High / dose.Value), ratio)),
        };
    }

    /// <summary>Energy that sides along y need over those along x.</summary>
    private static Measured? AlongYToX(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return reading.Model?.Parameters is { } known && known.TryGetValue("doseRatioAlongYToX", out Measured? ratio) ? ratio : null;
    }

    /// <summary>The reading as if the sides along the other axis had not been seen.</summary>
    private static Reading Along(Reading reading, bool isAlongY) => reading with
    {
        Cells = reading.Cells.Select(cell => cell.Sides is not { } sides ? cell : cell with
        {
            Sides = isAlongY ? sides with { Top = Unseen, Bottom = Unseen } : sides with { Left = Unseen, Right = Unseen },
        }).ToValueList(),
    };
}
