using System.Globalization;
using CardScan.Model;
using CsvHelper;

namespace CardScan.Reporting;

/// <summary>The settings of the archive as a table for other programs: RFC 4180, units in the header, one line a setting.</summary>
internal static class BookCsv
{
    public static string Write(ValueList<KeptSetting> settings)
    {
        (string Header, Func<KeptSetting, object?> Value)[] columns =
        [
            (Voice.Say("csv.material"), each => each.Card.Material),
            (Voice.Say("csv.thickness"), each => each.Card.ThicknessMm),
            (Voice.Say("csv.machine"), each => each.Machine.Name),
            (Voice.Say("csv.watts"), each => each.Machine.RatedOpticalWatts),
            (Voice.Say("csv.wavelength"), each => each.Machine.WavelengthNm),
            (Voice.Say("csv.process"), each => EnumName.Of(each.Card.Process)),
            (Voice.Say("csv.goal"), each => each.Recommendation.Goal),
            (Voice.Say("csv.standing"), each => EnumName.Of(each.Standing)),
            (Voice.Say("csv.power"), each => each.Recommendation.PowerPercent),
            (Voice.Say("csv.speed"), each => each.Recommendation.SpeedMmPerMin),
            (Voice.Say("csv.speed-s"), each => Numbers.Rounded(each.Recommendation.SpeedMmPerMin / 60, 6)),
            (Voice.Say("csv.passes"), each => each.Recommendation.Passes),
            (Voice.Say("csv.interval"), each => each.Recommendation.LineIntervalMm),
            (Voice.Say("csv.focus"), each => each.Recommendation.FocusOffsetMm),
            (Voice.Say("csv.air"), each => each.Air is { } air ? Voice.Tell(air.ToFigure()) : null),
            (Voice.Say("csv.confidence"), each => each.Recommendation.Confidence),
            (Voice.Say("csv.card"), each => each.Card.Number),
            (Voice.Say("csv.batch"), each => each.Card.Batch),
            (Voice.Say("csv.reading"), each => each.ReadingName),
            (Voice.Say("csv.read"), each => each.ReadUtc.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture)),
            (Voice.Say("csv.confirmed"), each => string.Join(' ', each.Agreeing.Select(other => other.ReadingName))),
            (Voice.Say("csv.against"), each => string.Join(' ', each.Against.Select(other => Voice.Tell(other.ToFigure())))),
        ];
        using StringWriter text = new(CultureInfo.InvariantCulture);
        using (CsvWriter csv = CsvWriter.Create(text, CellsCsv.Options, leaveOpen: true))
        {
            csv.WriteHeader([.. columns.Select(column => column.Header)]);
            foreach (KeptSetting setting in settings)
            {
                foreach ((_, Func<KeptSetting, object?> value) in columns) csv.WriteField(value(setting));
                csv.EndRecord();
            }
        }

        return text.ToString();
    }
}
