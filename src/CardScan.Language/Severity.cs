namespace CardScan.Language;

/// <summary>How much a warning of a photo weighs.</summary>
public enum Severity
{
    /// <summary>Take the photo again, or put right what it names, before much hangs on the reading.</summary>
    Severe,

    /// <summary>Cells or sides are lost: severe only where so many are that little is left.</summary>
    Lost,

    /// <summary>It is in the errors of the cells, or hardly matters; also where this version does not know the code.</summary>
    Minor,
}

/// <summary>What a piece of advice says of the reading as a whole.</summary>
public enum AdviceBearing
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Another photo of the card may make it superfluous.</summary>
    Photo,

    /// <summary>The limit lies outside the card: what was burned may be far more than is needed.</summary>
    UnseenLimit,

    /// <summary>It is why a cut is not sure.</summary>
    UnsureCut,

    /// <summary>It says what was done or taken into account; nothing is to be done about it.</summary>
    Remark,

    /// <summary>The material must not be burned, whatever its settings are good for.</summary>
    Danger,

    /// <summary>It tells what to look up before the material is burned.</summary>
    Caution,
}

/// <summary>What the codes of warnings and advice mean for the reading that they stand in.</summary>
public static class CodeMeanings
{
    /// <summary>The warnings of a photo, in the order in which they are shown: docs/messages.md lists them likewise.</summary>
    private static readonly (string Code, Severity Severity)[] Warnings =
    [
        (Codes.GridOrderUnknown, Severity.Severe), (Codes.FrontLitCut, Severity.Severe), (Codes.ThicknessMissing, Severity.Severe),
        (Codes.MotionBlur, Severity.Severe), (Codes.Soft, Severity.Severe), (Codes.Tilted, Severity.Severe),
        (Codes.FewPixels, Severity.Severe), (Codes.PoseResidual, Severity.Severe), (Codes.GridResidual, Severity.Severe),
        (Codes.PhotosDisagree, Severity.Severe), (Codes.ReferenceMisfit, Severity.Severe), (Codes.SeriesNoCurve, Severity.Severe),
        (Codes.Veil, Severity.Severe), (Codes.UnevenLight, Severity.Severe),
        (Codes.CellsClipped, Severity.Lost), (Codes.CellsCovered, Severity.Lost), (Codes.CellsGlare, Severity.Lost),
        (Codes.CellsOutOfFrame, Severity.Lost), (Codes.SidesUnseen, Severity.Lost),
        (Codes.MarkerMissing, Severity.Minor), (Codes.Bowed, Severity.Minor), (Codes.MachinePlay, Severity.Minor),
        (Codes.CellsUnevenGround, Severity.Minor),
        (Codes.LightGradient, Severity.Minor), (Codes.LocalTone, Severity.Minor), (Codes.Soot, Severity.Minor),
        (Codes.Noisy, Severity.Minor), (Codes.Dark, Severity.Minor), (Codes.GreysMisfit, Severity.Minor),
        (Codes.GreysUnmeasured, Severity.Minor), (Codes.SheetScale, Severity.Minor), (Codes.FocalLengthAssumed, Severity.Minor),
        (Codes.TabsBurned, Severity.Minor), (Codes.ColourProfileIgnored, Severity.Minor), (Codes.StrayMarker, Severity.Minor),
    ];

    /// <summary>Advice that bears on the whole reading; of one bearing, what is told first stands first.</summary>
    private static readonly (string Code, AdviceBearing Bearing)[] Bearings =
    [
        (Codes.NothingMeasured, AdviceBearing.Photo), (Codes.TooFewCells, AdviceBearing.Photo), (Codes.NoOrder, AdviceBearing.Photo),
        (Codes.NoSidesJudged, AdviceBearing.Photo), (Codes.UnseenCells, AdviceBearing.Photo), (Codes.SidesMissing, AdviceBearing.Photo),
        (Codes.LinesUnresolved, AdviceBearing.Photo),
        (Codes.AllThrough, AdviceBearing.UnseenLimit), (Codes.Saturated, AdviceBearing.UnseenLimit),
        (Codes.BridgedSides, AdviceBearing.UnsureCut), (Codes.HeldAnyway, AdviceBearing.UnsureCut),
        (Codes.ClosesAgain, AdviceBearing.UnsureCut),
        (Codes.OneLight, AdviceBearing.Remark), (Codes.TonesKnown, AdviceBearing.Remark),
        (Codes.TonesOneScale, AdviceBearing.Remark), (Codes.StripKnown, AdviceBearing.Remark),
        (Codes.StripUnknown, AdviceBearing.Remark), (Codes.OwnStrength, AdviceBearing.Remark),
        (Codes.CauseBatch, AdviceBearing.Remark),
        (Codes.MaterialDanger, AdviceBearing.Danger), (Codes.MaterialCaution, AdviceBearing.Caution),
    ];

    /// <summary>Severity of a warning of a photo.</summary>
    public static Severity SeverityOf(string code) =>
        RankOf(code) is var rank && rank < Warnings.Length ? Warnings[rank].Severity : Severity.Minor;

    /// <summary>Place of a warning among all of them, the most severe first; one that this version does not know comes last.</summary>
    public static int RankOf(string code) =>
        Array.FindIndex(Warnings, known => known.Code == code) is >= 0 and int rank ? rank : Warnings.Length;

    /// <summary>What a piece of advice says of the reading as a whole.</summary>
    public static AdviceBearing BearingOf(string code) => Bearings.FirstOrDefault(known => known.Code == code).Bearing;

    /// <summary>Place of a piece of advice among those of its bearing.</summary>
    public static int OrderOf(string code) => Array.FindIndex(Bearings, known => known.Code == code);
}
