namespace CardScan.Calibration;

/// <summary>A scoring that breaks down on one card is a fault to report beside the others, not the end of a study.</summary>
internal static class Breakdown
{
    /// <param name="card">What names the card to somebody who wants to see it again.</param>
    /// <param name="judge">Scores and judges it.</param>
    /// <param name="instead">Stands for it where the scoring breaks down.</param>
    public static T Instead<T>(string card, Func<T> judge, Func<Exception, T> instead)
    {
        try
        {
            return judge();
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            Console.Error.WriteLine($"\n{card}: the scoring breaks down, {InWords(fault)}");
            return instead(fault);
        }
    }

    public static string InWords(Exception fault) => $"{fault.GetType().Name}: {fault.Message.ReplaceLineEndings(" ")}";
}
