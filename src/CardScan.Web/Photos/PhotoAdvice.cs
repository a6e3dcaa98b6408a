using CardScan.Model;

namespace CardScan.Web;

/// <summary>What a photo that was measured could do better.</summary>
internal static class PhotoAdvice
{
    /// <summary>What a small copy cannot tell of the photo itself: it has fewer pixels and none of the camera's words.</summary>
    private static readonly string[] OfPixels =
        [Codes.FewPixels, Codes.Soft, Codes.MotionBlur, Codes.PoseResidual, Codes.GridResidual, Codes.SidesUnseen];

    /// <summary>The one thing to change by a small copy; null where nothing is seen in it.</summary>
    /// <param name="copy">What the copy is like.</param>
    public static Warning? OfCopy(PhotoRecord copy) => Of(copy with
    {
        Warnings = copy.Warnings.Where(warning => !OfPixels.Contains(warning.Code)).ToValueList(),
    });

    /// <summary>The one thing to change; null where the photo is good as it is.</summary>
    /// <param name="photo">What the photo is like.</param>
    public static Warning? Of(PhotoRecord photo) =>
        Judgement.Sorted(photo.Warnings).FirstOrDefault(
            warning => CodeMeanings.SeverityOf(warning.Code) is Severity.Severe or Severity.Lost);
}
