using CardScan.Model;

namespace CardScan.Web;

/// <summary>What a photo that was measured could do better.</summary>
internal static class PhotoAdvice
{
    /// <summary>The one thing to change; null where the photo is good as it is.</summary>
    /// <param name="photo">What the photo is like.</param>
    public static Warning? Of(PhotoRecord photo) =>
        Judgement.Sorted(photo.Warnings).FirstOrDefault(warning => CodeMeanings.SeverityOf(warning.Code) is Severity.Severe or Severity.Lost);
}
