using System.Globalization;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The settings of the archive as a table for other programs, one line a setting.</summary>
internal static class BookCsv
{
    public static string Write(ValueList<KeptSetting> settings) => CsvTable.Of<KeptSetting>(
        [
            new(Voice.Say("csv.material"), each => each.Card.Material),
            new(Voice.Say("csv.thickness"), each => each.Card.ThicknessMm),
            new(Voice.Say("csv.machine"), each => each.Machine.Name),
            new(Voice.Say("csv.watts"), each => each.Machine.RatedOpticalWatts),
            new(Voice.Say("csv.wavelength"), each => each.Machine.WavelengthNm),
            new(Voice.Say("csv.process"), each => EnumName.Of(each.Card.Process)),
            new(Voice.Say("csv.goal"), each => each.Recommendation.Goal),
            new(Voice.Say("csv.standing"), each => EnumName.Of(each.Standing)),
            new(Voice.Say("csv.power"), each => each.Recommendation.PowerPercent),
            new(Voice.Say("csv.speed"), each => each.Recommendation.SpeedMmPerMin),
            new(Voice.Say("csv.speed-s"), each => Numbers.Rounded(each.Recommendation.SpeedMmPerMin / 60, 6)),
            new(Voice.Say("csv.passes"), each => each.Recommendation.Passes),
            new(Voice.Say("csv.interval"), each => each.Recommendation.LineIntervalMm),
            new(Voice.Say("csv.focus"), each => each.Recommendation.FocusOffsetMm),
            new(Voice.Say("csv.air"), each => each.Air is { } air ? Voice.Tell(air.ToFigure()) : null),
            new(Voice.Say("csv.confidence"), each => each.Recommendation.Confidence),
            new(Voice.Say("csv.card"), each => each.Card.Number),
            new(Voice.Say("csv.batch"), each => each.Card.Batch),
            new(Voice.Say("csv.reading"), each => each.ReadingName),
            new(Voice.Say("csv.read"), each => each.ReadUtc.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture)),
            new(Voice.Say("csv.confirmed"), each => string.Join(' ', each.Agreeing.Select(other => other.ReadingName))),
            new(Voice.Say("csv.against"), each => string.Join(' ', each.Against.Select(other => Voice.Tell(other.ToFigure())))),
        ],
        settings);
}
