using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>Every refusal that a test meets says what was seen and what to do.</summary>
internal static class RefusalText
{
    /// <summary>The code of a refusal that says both of its sentences.</summary>
    internal static string ToldCode(this Refusal refusal)
    {
        Assert.All([refusal.Seen, refusal.Remedy], sentence => Assert.EndsWith(".", sentence));
        return refusal.Code;
    }
}
