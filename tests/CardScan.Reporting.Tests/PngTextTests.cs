using SixLabors.ImageSharp;

namespace CardScan.Reporting.Tests;

public class PngTextTests
{
    [Fact]
    public void Another_library_reads_the_texts_of_an_annotated_picture_and_the_picture()
    {
        CardScan.Model.Reading reading = Samples.Engraved();
        byte[] png = CardReport.AnnotatedPng(reading, Samples.Picture(reading.Plan, 4));
        using Image image = Image.Load(png);
        Dictionary<string, string> texts = image.Metadata.GetPngMetadata().TextData.ToDictionary(text => text.Keyword, text => text.Value);
        Assert.StartsWith($"Card {reading.Plan.Number}", texts["Title"], StringComparison.Ordinal);
        Assert.Equal($"{reading.Plan.Number}", texts["CardScan card"]);
        Assert.Equal(reading.Photos[0].Sha256, texts["CardScan photo SHA-256"]);
        Assert.Contains(reading.Recommendations[0].Reason, texts["Description"], StringComparison.Ordinal);
        Assert.Contains("mm/min", texts["CardScan settings"], StringComparison.Ordinal);
        Assert.True(image.Width > 100);
    }
}
