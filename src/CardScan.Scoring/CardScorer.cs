using CardScan.Model;
using CardScan.Scoring.Cutting;
using CardScan.Scoring.Engraving;
using CardScan.Scoring.Focus;
using CardScan.Scoring.Tones;

namespace CardScan.Scoring;

/// <summary>Turns the measured cells of a card into recommended settings.</summary>
/// <remarks>
/// Only the cells' settings and measured values are read (darkness, or else contrast, and halo of engraved cells, the
/// sides of cut ones, the line widths of a focus ladder), so a reading that another program wrote serves as well.
/// Method: docs/method/engrave-scoring.md, docs/method/cut-scoring.md and docs/method/focus.md.
/// </remarks>
public static class CardScorer
{
    /// <summary>Scores a reading; what an earlier scoring put in is replaced.</summary>
    /// <param name="reading">A reading whose cells are measured.</param>
    /// <param name="options">Goals, limits and probabilities.</param>
    /// <returns>
    /// The reading with recommendations, advice, boundary and model, and tones where they are asked for. Where no
    /// setting can be recommended, or none for some goal, the advice says why and which way to go. Cells that do not
    /// fit the others are flagged <see cref="CellFlag.Outlier"/>; a cell without a dose gets it from its settings, one
    /// without a darkness from its contrast.
    /// </returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static Reading Score(Reading reading, ScoringOptions options) => Score(reading, [], options);

    /// <summary>Scores a reading together with earlier cards of the same material, thickness, batch, machine and focus.</summary>
    /// <param name="reading">The newest reading: the result is this one, scored.</param>
    /// <param name="earlier">
    /// Readings of the earlier cards, which may be joined with it (<see cref="CardJoin.Obstacle"/>); each card has a
    /// chance of its own. None scores the reading alone.
    /// </param>
    /// <param name="options">Goals, limits and probabilities.</param>
    /// <returns>
    /// As <see cref="Score(Reading, ScoringOptions)"/>; a recommended setting may stand on an earlier card
    /// (<see cref="Recommendation.Card"/>).
    /// </returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static Reading Score(Reading reading, ValueList<Reading> earlier, ScoringOptions options)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();

        Reading clean = Prepared(reading);
        ValueList<Reading> others = earlier.Select(Prepared).ToValueList();
        Verdict verdict = reading.Plan switch
        {
            { IsPrinted: true } => StripVerdict.Of(clean),
            { Kind: CardKind.FocusLadder } => FocusScorer.Score(clean),
            { Process: Process.Cut } => CutScorer.Score(clean, others, options),
            _ => EngraveScorer.Score(clean, others, options),
        };
        Reading scored = EarlierCells.AddTo(verdict.ApplyTo(clean), others);
        return options.Tones is { } tones ? ToneScorer.AddTo(scored, tones) : scored;
    }

    private static Reading Prepared(Reading reading) =>
        reading with { Tones = null, Joined = null, Cells = reading.Cells.Select(cell => Prepared(cell, reading.Plan)).ToValueList() };

    private static CellReading Prepared(CellReading cell, Plan plan) => cell with
    {
        Flags = cell.Flags.Where(flag => flag != CellFlag.Outlier).ToValueList(),
        Dose = cell.Dose ?? plan.DoseOf(cell.Settings),
        Darkness = cell.Darkness ?? DarknessOf(cell.Contrast),
    };

    /// <summary>Another program may write the contrast C alone: −log10(1 + C) says the same; nothing where no light comes back.</summary>
    private static Measured? DarknessOf(Measured? contrast) =>
        contrast is not { Value: > -1 } ? null
        : new(-Math.Log10(1 + contrast.Value), contrast.StandardError / (Math.Log(10) * (1 + contrast.Value)));
}
