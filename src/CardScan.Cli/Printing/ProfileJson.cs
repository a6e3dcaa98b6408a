using System.Text.Json.Nodes;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>A profile for other programs: docs/formats.md, "Output for programs".</summary>
internal static class ProfileJson
{
    public static JsonObject Of(KeptProfile profile, bool isDefault)
    {
        bool isMachine = profile.Machine is not null;
        string kind = isMachine ? "machine" : "material";
        string text = isMachine ? CardJson.Write(profile.Machine!.Content) : CardJson.Write(profile.Material!.Content);
        return new()
        {
            ["kind"] = kind, ["name"] = profile.Name, ["isDefault"] = isDefault, ["file"] = profile.Path,
            [kind] = JsonNode.Parse(text)![kind]!.DeepClone(),
        };
    }

    /// <summary>The defaults; absent where none is chosen.</summary>
    public static JsonObject Of(Preferences preferences) =>
        JsonText.Without(new() { ["machine"] = preferences.Machine, ["material"] = preferences.Material });
}
