using CardScan.Model;

namespace CardScan.Planning;

/// <summary>A point in the machine's frame: mm from its zero, x to the right, y away from the front.</summary>
internal readonly record struct MachinePoint(double XMm, double YMm)
{
    internal double DistanceTo(MachinePoint other) =>
        Math.Sqrt((XMm - other.XMm) * (XMm - other.XMm) + (YMm - other.YMm) * (YMm - other.YMm));
}

/// <summary>A straight part of a stroke.</summary>
/// <param name="To">Where it ends.</param>
/// <param name="IsOn">Whether the beam burns on the way.</param>
internal readonly record struct Segment(MachinePoint To, bool IsOn);

/// <summary>A path run in one go at one feed, from rest to rest; the beam is off before and after it.</summary>
/// <param name="Start">Where it begins; the head travels there with the beam off.</param>
/// <param name="Segments">Its parts.</param>
internal sealed record Stroke(MachinePoint Start, ValueList<Segment> Segments)
{
    /// <summary>Where it ends.</summary>
    internal MachinePoint End => Segments[^1].To;

    /// <summary>Every part with both of its ends.</summary>
    internal IEnumerable<(MachinePoint From, MachinePoint To, bool IsOn)> Parts()
    {
        MachinePoint from = Start;
        foreach (Segment segment in Segments)
        {
            yield return (from, segment.To, segment.IsOn);
            from = segment.To;
        }
    }

    /// <summary>The stretches that burn, each a stroke of its own: for a machine that stands still wherever the beam is switched.</summary>
    internal IEnumerable<Stroke> BurningStretches()
    {
        MachinePoint from = Start;
        List<Segment> stretch = [];
        MachinePoint begin = Start;
        foreach (Segment segment in Segments)
        {
            if (segment.IsOn)
            {
                if (stretch.Count == 0) begin = from;
                stretch.Add(segment);
            }
            else if (stretch.Count > 0)
            {
                yield return new(begin, stretch.ToValueList());
                stretch.Clear();
            }

            from = segment.To;
        }

        if (stretch.Count > 0) yield return new(begin, stretch.ToValueList());
    }
}

/// <summary>What belongs together on a card and is burned at one setting: a marker, a label, a cell.</summary>
/// <param name="Name">For the comment in the machine file.</param>
/// <param name="Cell">The cell, or null for markers and labels.</param>
/// <param name="IsFill">True for an area of lines side by side, false for single lines.</param>
/// <param name="PowerPercent">Percent of full power.</param>
/// <param name="SpeedMmPerMin">Feed.</param>
/// <param name="FocusOffsetMm">Focus of the first pass, negative below the surface.</param>
/// <param name="Strokes">Every stroke of one pass, in order.</param>
internal sealed record Piece(
    string Name, Cell? Cell, bool IsFill, double PowerPercent, double SpeedMmPerMin, double FocusOffsetMm, ValueList<Stroke> Strokes)
{
    /// <summary>How often the strokes are run.</summary>
    internal int Passes { get; init; } = 1;

    /// <summary>How much lower the focus goes with each further pass, mm.</summary>
    internal double FocusStepMm { get; init; }

    /// <summary>Rest before it, s.</summary>
    internal double PauseBeforeS { get; init; }

    /// <summary>Rest between its passes, s.</summary>
    internal double PassPauseS { get; init; }

    /// <summary>Length that is burned in all passes, mm.</summary>
    internal double BurnedMm =>
        Passes * Strokes.SelectMany(stroke => stroke.Parts()).Where(part => part.IsOn).Sum(part => part.From.DistanceTo(part.To));

    /// <summary>Every pass: the rest before it, s, and its focus, mm.</summary>
    internal IEnumerable<(double PauseS, double FocusOffsetMm)> Runs() => Enumerable.Range(0, Passes)
        .Select(pass => (pass == 0 ? PauseBeforeS : PassPauseS, Math.Round(FocusOffsetMm - pass * FocusStepMm, 6)));
}
