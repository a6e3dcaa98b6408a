using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Deeds in words.</summary>
public static class DeedWords
{
    /// <summary>"Ana kept c5".</summary>
    /// <param name="deed">What was done.</param>
    public static string InWords(this Deed deed)
    {
        ArgumentNullException.ThrowIfNull(deed);
        return Voice.Say("archive.deed", ("what", $"{deed.Kind}"), ("by", deed.By.Name), ("subject", deed.Subject));
    }
}
