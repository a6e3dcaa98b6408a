using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Settings of the archive for other programs (docs/archive.md, "JSON").</summary>
internal static class SettingsJson
{
    /// <summary>A setting with what backs it and what speaks against it.</summary>
    public static JsonObject Of(KeptSetting setting) => JsonText.Without(new()
    {
        ["material"] = setting.Card.Material,
        ["thicknessMm"] = setting.Card.ThicknessMm,
        ["machine"] = setting.Machine.Name,
        ["ratedOpticalWatts"] = setting.Machine.RatedOpticalWatts,
        ["wavelengthNm"] = setting.Machine.WavelengthNm,
        ["beamXMm"] = setting.Machine.BeamXMm,
        ["beamYMm"] = setting.Machine.BeamYMm,
        ["beamMode"] = EnumName.Of(setting.Machine.BeamMode ?? BeamMode.Constant),
        ["process"] = ArchiveJson.Process(setting.Card),
        ["standing"] = EnumName.Of(setting.Standing),
        ["recommendation"] = ArchiveJson.Of(setting.Recommendation),
        ["airAssist"] = setting.Air is { } air
            ? JsonText.Without(new() { ["isOn"] = air.IsOn, ["pressure"] = air.Pressure })
            : null,
        ["batch"] = setting.Card.Batch,
        ["readUtc"] = ArchiveJson.Time(setting.ReadUtc),
        ["reading"] = setting.ReadingName,
        ["card"] = setting.Card.Name,
        ["isConfirmed"] = setting.IsConfirmed,
        ["others"] = JsonText.List(setting.Others.Select(Of)),
        ["next"] = setting.NextStep() is { } next ? Voice.Tell(next) : null,
        ["bridges"] = setting.Bridges is { } bridges ? JsonText.Of(bridges) : null,
        ["warnings"] = ArchiveJson.Warnings(setting.Card),
    });

    private static JsonObject Of(OtherCard other) => JsonText.Without(new()
    {
        ["number"] = other.Number,
        ["batch"] = other.Batch,
        ["reading"] = other.ReadingName,
        ["readUtc"] = ArchiveJson.Time(other.ReadUtc),
        ["opinion"] = EnumName.Of(other.Opinion),
        ["isNewer"] = other.IsNewer,
        ["speedMmPerMin"] = other.Setting?.SpeedMmPerMin,
        ["powerPercent"] = other.Setting?.PowerPercent,
    });
}
