using CardScan.Model;

namespace CardScan.Planning;

/// <summary>How long a job takes and how much energy it delivers.</summary>
/// <remarks>
/// Every stretch in one direction runs from rest to rest with constant acceleration: v = min(feed, √(a·s)) is reached,
/// t = s / v + v / a. Corners and reversals are stops, and so are rests and the hand that turns a focus. Source:
/// docs/method/burn-time.md.
/// </remarks>
internal static class BurnTime
{
    /// <param name="job">What is burned.</param>
    /// <param name="ratedOpticalWatts">Optical power at 100 %, W.</param>
    /// <param name="stopsAtSwitch">True for a controller that stands still wherever the beam is switched.</param>
    internal static BurnEstimate Of(BurnJob job, double ratedOpticalWatts, bool stopsAtSwitch = false)
    {
        List<CellEstimate> cells = [];
        double total = 0, energy = 0, focus = 0, waiting = 0;
        int stops = 0;
        MachineNeeds machine = job.Machine;
        MachinePoint at = new(0, 0);
        foreach (Piece piece in job.Pieces)
        {
            double seconds = 0;
            foreach ((double pause, double pieceFocus) in piece.Runs())
            {
                int turns = Turns(pieceFocus);
                (stops, focus) = (stops + turns, pieceFocus);
                waiting += pause + turns * HandFocus.SecondsPerTurn;
                seconds += pause + turns * HandFocus.SecondsPerTurn;
                foreach (Stroke stroke in piece.Strokes)
                {
                    seconds += Straight(at.DistanceTo(stroke.Start), machine.FastestMmPerMin, machine.AccelerationMmPerS2)
                        + Of(stroke, piece.SpeedMmPerMin, machine.AccelerationMmPerS2, stopsAtSwitch);
                    at = stroke.End;
                }
            }

            double joules = BurningSeconds(piece, machine) * piece.PowerPercent / 100 * ratedOpticalWatts;
            if (piece.Cell is { } cell) cells.Add(new(cell.Row, cell.Column, seconds, joules));
            (total, energy) = (total + seconds, energy + joules);
        }

        int last = Turns(0);
        total += Straight(at.DistanceTo(new(0, 0)), machine.FastestMmPerMin, machine.AccelerationMmPerS2) + last * HandFocus.SecondsPerTurn;
        return new(total, energy, cells.OrderBy(cell => cell.Row).ThenBy(cell => cell.Column).ToValueList()) 
        {
            HandStops = stops + last, WaitingSeconds = waiting + last * HandFocus.SecondsPerTurn,
        };

        int Turns(double toMm) => machine.TurnsFocusByHand ? HandFocus.Turns(focus, toMm).Count() : 0;
    }

    /// <summary>
    /// How much longer the beam is on than length over feed tells, as a factor of 1 or more: what line ends get too much where
    /// they are burned from rest.
    /// </summary>
    internal static double Excess(Piece piece, MachineNeeds machine) =>
        BurningSeconds(piece, machine) / (piece.BurnedMm / (piece.SpeedMmPerMin / 60));

    /// <summary>How long the beam is on at the full power of the setting, or at less for so much longer, s.</summary>
    private static double BurningSeconds(Piece piece, MachineNeeds machine) => machine.Mode == BeamMode.FromRest
        ? piece.Passes * piece.Strokes.Sum(stroke => Of(stroke, piece.SpeedMmPerMin, machine.AccelerationMmPerS2, stopsAtSwitch: false))
        : piece.BurnedMm / (piece.SpeedMmPerMin / 60);

    private static double Of(Stroke stroke, double feedMmPerMin, double acceleration, bool stopsAtSwitch)
    {
        double seconds = 0, run = 0;
        (double X, double Y) heading = default;
        bool wasOn = false;
        foreach ((MachinePoint from, MachinePoint to, bool isOn) in stroke.Parts())
        {
            double length = from.DistanceTo(to);
            if (length == 0) continue;
            (double X, double Y) next = ((to.XMm - from.XMm) / length, (to.YMm - from.YMm) / length);
            bool turns = heading.X * next.X + heading.Y * next.Y < 1 - 1e-9;
            if (run > 0 && (turns || (stopsAtSwitch && isOn != wasOn)))
            {
                seconds += Straight(run, feedMmPerMin, acceleration);
                run = 0;
            }

            (run, heading, wasOn) = (run + length, next, isOn);
        }

        return seconds + Straight(run, feedMmPerMin, acceleration);
    }

    private static double Straight(double lengthMm, double feedMmPerMin, double acceleration)
    {
        if (lengthMm <= 0) return 0;
        double speed = Math.Min(feedMmPerMin / 60, Math.Sqrt(acceleration * lengthMm));
        return lengthMm / speed + speed / acceleration;
    }
}
