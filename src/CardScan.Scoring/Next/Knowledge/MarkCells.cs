using CardScan.Model;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>The marks of the engraved cells that one law can follow.</summary>
internal sealed class MarkCells
{
    private readonly int[] _cards;
    private readonly double[] _lnPowers;
    private readonly double[] _lnSpeeds;

    private MarkCells((int Card, CellReading Cell)[] cells, int cards, Measured? peak)
    {
        _cards = [.. cells.Select(cell => cell.Card)];
        _lnPowers = [.. cells.Select(cell => Math.Log(cell.Cell.Settings.PowerPercent))];
        _lnSpeeds = [.. cells.Select(cell => Math.Log(cell.Cell.Settings.SpeedMmPerMin))];
        Strengths = [.. cells.Select(cell => cell.Cell.MarkStrength!.Value)];
        MiddleLnSpeed = _lnSpeeds.Length > 0 ? _lnSpeeds.Average() : 0;
        LnDoses = [.. _lnPowers.Zip(_lnSpeeds, (power, speed) => power - speed + MiddleLnSpeed)];
        CardCount = cards;
        AreLighter = cells.Sum(cell => cell.Cell.Darkness!.Value) < 0;
        Peak = peak;
        double[] errors = [.. cells.Select(cell => cell.Cell.Darkness!.StandardError).Where(error => error > 0).Order()];
        DarknessError = errors.Length > 0 ? errors[errors.Length / 2] : null;
    }

    public int Count => Strengths.Length;

    public int CardCount { get; }

    public double[] Strengths { get; }

    public double MiddleLnSpeed { get; }

    /// <summary>ln dose of each cell as a power at the middle speed, were only energy to count.</summary>
    public double[] LnDoses { get; }

    public bool AreLighter { get; }

    /// <summary>
    /// The strongest mark where the marks weaken past a known end: the scoring has it from cells that no rising curve follows.
    /// </summary>
    public Measured? Peak { get; }

    /// <summary>The middle one of the stated standard errors; null where none is stated.</summary>
    public double? DarknessError { get; }

    public static MarkCells Of(IReadOnlyList<Reading> cards, CellSettings about, FarEnd end) => new(
        [.. cards.Index().SelectMany(card =>
            card.Item.Cells.Where(cell => IsUsed(cell, about) && end.IsBefore(cell.Settings)).Select(cell => (card.Index, cell)))],
        cards.Count, end.IsKnown ? PeakOf(cards[0]) : null);

    /// <summary>
    /// Strength of a cell by some parameters, those of <see cref="PlausibleMark"/> and the further cards' ln dose factors.
    /// </summary>
    public double StrengthAt(ReadOnlySpan<double> p, int cell)
    {
        double own = _cards[cell] == 0 || p.Length == PlausibleMark.CurveParameters
            ? 0
            : p[PlausibleMark.CurveParameters + _cards[cell] - 1];
        return PlausibleMark.StrengthAt(p, _lnPowers[cell] + own, _lnSpeeds[cell] - MiddleLnSpeed);
    }

    /// <summary>What each card tells of a law.</summary>
    public double[][] InformationOf(PlausibleLaw law)
    {
        double[][] cards = [.. Enumerable.Range(0, CardCount).Select(_ => Information.None(law))];
        for (int i = 0; i < Count; i++) law.Add(cards[_cards[i]], _lnPowers[i], _lnSpeeds[i]);
        if (Peak is not null) PlausibleMark.AddPeak(cards[0], Peak.StandardError);
        return cards;
    }

    private static Measured? PeakOf(Reading scored) =>
        scored.Model?.Parameters.TryGetValue("strongestMark", out Measured? strongest) == true && strongest.StandardError > 0
            ? strongest
            : null;

    private static bool IsUsed(CellReading cell, CellSettings about) =>
        cell.MarkStrength is { } mark && double.IsFinite(mark.Value)
        && cell.Settings is { PowerPercent: > 0, SpeedMmPerMin: > 0 } settings
        && settings.Passes == about.Passes && settings.FocusOffsetMm == about.FocusOffsetMm
        && settings.LineIntervalMm == about.LineIntervalMm
        && !cell.Flags.Any(flag => CellFlag.IsDisqualifying(flag) || flag == CellFlag.Outlier);
}
