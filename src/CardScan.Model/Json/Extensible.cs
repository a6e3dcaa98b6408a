using System.Text.Json.Serialization;

namespace CardScan.Model;

/// <summary>An object of a file, which keeps the fields that this version does not know.</summary>
public abstract record Extensible
{
    /// <summary>Fields this version does not know; written again after the known ones. Null where there are none.</summary>
    [JsonInclude, JsonExtensionData]
    public UnknownFields? Unknown { get; internal set; }
}
