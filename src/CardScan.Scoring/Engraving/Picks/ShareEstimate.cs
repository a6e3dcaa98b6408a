namespace CardScan.Scoring.Engraving;

/// <summary>What is known of a setting's share of the strongest mark.</summary>
/// <param name="Share">Best estimate, 0 to 1.</param>
/// <param name="Low">Lower limit of its 95 % interval.</param>
/// <param name="High">Upper limit of its 95 % interval.</param>
/// <param name="FullMarkProbability">Probability that the setting is a full mark.</param>
internal sealed record ShareEstimate(double Share, double Low, double High, double FullMarkProbability);
