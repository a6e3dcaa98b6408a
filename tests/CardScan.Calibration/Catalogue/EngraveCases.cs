namespace CardScan.Calibration;

/// <summary>The engraving laws of the study. The first is the scoring's own.</summary>
internal static class EngraveCases
{
    public static readonly EngraveCase[] All =
    [
        new("saturating", "rises from a threshold and levels off: the scoring's own law", MarkDraws.Saturating),
        new("logistic", "four-parameter logistic", MarkDraws.Logistic),
        new("rise then fall", "20 to 60 % of the mark is lost again past the peak, slowly", MarkDraws.RiseThenFall),
        new("staircase", "six levels that jump", MarkDraws.Staircase),
        new("log ramp", "the same gain with every doubling of the dose, marked all over, still growing at the top", MarkDraws.LogRamp),
        new("log ramp from a threshold", "the same, with the weak cells bare", MarkDraws.LogRampInside),
        new("ever slower gain", "dose to the power of 0.15 to 0.5: no plateau, no threshold", MarkDraws.PowerGain),
        new("coat that turns at once", "a step over 1 to 8 % of dose", MarkDraws.Coat),
        new("two stages", "a plateau, then a second rise of 0.08 to 0.3 at 60 to 90 % of the way over the doses", MarkDraws.TwoStage),
        new("late char", "a plateau, and above it only the strongest cell, or up to one in ten", MarkDraws.LateChar),
        new("peak in log dose", "weaker by the same ratio below and above the peak", MarkDraws.Peak),
        new("burned off at the top", "a plateau, and 30 to 90 % of it lost at the highest doses", MarkDraws.BurnedOff),
        new("beyond the peak", "weaker with every dose more, all over the card", MarkDraws.BeyondPeak),
        new("dead zone", "no light below 5 to 20 % of power, linear above", MarkDraws.Saturating) { Driver = Drivers.DeadZone },
        new("power levels off", "light bends towards 60 to 110 % of full", MarkDraws.Saturating) { Driver = Drivers.Levelling },
        new("speed exponent 0.4 to 1.2", "speed counts less, or more, than power", MarkDraws.Saturating) { SpeedExponent = (0.4, 1.2) },
        new("stripes", "every other row or column 3 to 8 % weaker", MarkDraws.Saturating) { Field = Fields.StripesOfMark },
        new("tilt", "8 to 20 % of dose from edge to edge, any way", MarkDraws.Saturating) { Field = Fields.Tilt },
        new("bowl", "8 to 20 % of dose lost in the corners", MarkDraws.Saturating) { Field = Fields.Bowl },
        new("weaker corner", "25 % of dose lost towards one corner", MarkDraws.Saturating) { Field = Fields.Corner },
        new("heavy tails", "a cell's chance follows Student's t of 2 or 3 degrees of freedom", MarkDraws.Saturating)
        {
            Disturbance = chance => new("heavy tails") { TailFreedom = chance.Toss() ? 2 : 3 },
        },
        new("rows and columns not seen", "one in five, at least one of either", MarkDraws.Saturating) { HasGaps = true },
        new("too weak", "the plateau takes 1.3 to 4 times the card's highest dose", MarkDraws.TooWeak),
        new("too strong", "the weakest cell is full already", MarkDraws.TooStrong),
    ];
}
