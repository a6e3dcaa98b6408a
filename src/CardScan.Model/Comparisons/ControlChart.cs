using System.Text.Json.Serialization;

namespace CardScan.Model;

/// <summary>
/// Relative doses against the first batch, in time where every photo says when it was taken, else in the order given, with the
/// limits of an individuals chart.
/// </summary>
/// <param name="Points">The batches that have one, the first included.</param>
/// <param name="Centre">Their geometric mean.</param>
/// <param name="LowerLimit">Lower control limit.</param>
/// <param name="UpperLimit">Upper control limit.</param>
/// <param name="Finding">What it tells, of a file without <see cref="Reasons"/>.</param>
public sealed record ControlChart(
    ValueList<ControlPoint> Points, double Centre, double LowerLimit, double UpperLimit, string Finding = "") : Extensible
{
    /// <summary>What it tells: the <see cref="Reasons"/> one after the other; of a file without them, its text.</summary>
    [JsonRequired]
    public string Finding { get => Reasons.Count > 0 ? Reason.Text(Reasons) : field; init; } = Finding;

    /// <summary>The same sentence by sentence.</summary>
    public ValueList<Reason> Reasons { get; init => field = value ?? []; } = [];
}

/// <summary>A batch on the control chart.</summary>
/// <param name="Label">The batch.</param>
/// <param name="Value">Its dose relative to the first.</param>
/// <param name="Low">Lower limit of its 95 % interval; the value itself for the first.</param>
/// <param name="High">Upper limit of its 95 % interval; the value itself for the first.</param>
/// <param name="IsOutside">True where it lies outside the control limits.</param>
public sealed record ControlPoint(string Label, double Value, double Low, double High, bool IsOutside) : Extensible
{
    /// <summary>When its last photo was taken, by the camera's own clock; absent where no photo says.</summary>
    public DateTime? Taken { get; init; }
}

/// <summary>How well repeated readings of one card agree.</summary>
/// <param name="Readings">Readings of the card, 2 or more.</param>
/// <param name="Cells">Cells that all of them measured.</param>
/// <param name="WithinCellDeviation">Standard deviation of a cell's darkness from photo to photo.</param>
/// <param name="SingleIcc">Intraclass correlation ICC(1,1): photos as chance, with its 95 % interval.</param>
/// <param name="AgreementIcc">Intraclass correlation ICC(2,1): photos as a random sample of photos, with its 95 % interval.</param>
public sealed record Repeatability(
    int Readings, int Cells, double WithinCellDeviation, Interval SingleIcc, Interval AgreementIcc) : Extensible
{
    /// <summary>Standard deviation of one reading's ln relative dose; absent where the law cannot be fitted.</summary>
    public double? LnRelativeDoseDeviation { get; init; }
}
