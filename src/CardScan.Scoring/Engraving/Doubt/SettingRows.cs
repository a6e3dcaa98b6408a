using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving.Doubt;

/// <summary>Some settings in the linear model of a law.</summary>
/// <param name="fitted">Their strengths by the fit.</param>
/// <param name="slopes">
/// What a unit of each number of a draw adds to them, number by number: parameters of the law, then deviations.
/// </param>
internal sealed class SettingRows(double[] fitted, double[] slopes)
{
    /// <summary>Number of settings.</summary>
    public int Count => fitted.Length;

    /// <summary>What a unit of one number adds to each setting.</summary>
    public ReadOnlySpan<double> SlopesOf(int number) => slopes.AsSpan(number * fitted.Length, fitted.Length);

    /// <summary>Strengths at the numbers of a draw; what follows the settings' own numbers belongs to places and cards.</summary>
    public void Fill(ReadOnlySpan<double> numbers, Span<double> strengths)
    {
        fitted.CopyTo(strengths);
        if (fitted.Length == 1)
        {
            // One setting alone: its slopes lie side by side.
            for (int k = 0; k < slopes.Length; k++) strengths[0] += numbers[k] * slopes[k];
            return;
        }

        for (int k = 0; k < slopes.Length / fitted.Length; k++) Vectors.AddScaled(strengths, numbers[k], SlopesOf(k));
    }
}
