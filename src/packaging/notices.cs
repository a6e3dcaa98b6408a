#:property PublishAot=false
#:property NoWarn=CA1303;CA1305;CA1307;CA1308;CA1852;MA0004;MA0047;MA0048;MA0051;CS1591
// Writes the notices of everything that CardScan ships with: dotnet run notices.cs BOM PACKAGES OUT
// BOM is the CycloneDX bill of materials, PACKAGES the folder of NuGet packages. A part without a licence text ends it.
using System.Text;
using System.Text.Json;

string here = Path.GetDirectoryName(Path.GetFullPath((string)AppContext.GetData("EntryPointFilePath")!))!;
string[] runtimes = ["microsoft.netcore.app.runtime.nativeaot.linux-x64", "microsoft.aspnetcore.app.runtime.linux-x64"];
string[] fileNames = ["LICENSE.txt", "LICENSE.TXT", "Notice.txt", "THIRD-PARTY-NOTICES.txt", "THIRD-PARTY-NOTICES.TXT"];
using JsonDocument bom = JsonDocument.Parse(File.ReadAllText(args[0]));
StringBuilder text = new();
HashSet<string> used = [];
text.AppendLine("CardScan is built with the parts below. Each comes under its own licence; the texts that several share stand at the end.");

foreach (JsonElement part in bom.RootElement.GetProperty("components").EnumerateArray())
{
    string name = part.GetProperty("name").GetString()!, version = part.GetProperty("version").GetString()!;
    string folder = Path.Combine(args[1], name.ToLowerInvariant(), version);
    string[] texts = [.. fileNames.Select(file => Path.Combine(folder, file)).Where(File.Exists).Distinct()];
    string[] ids = !part.TryGetProperty("licenses", out JsonElement licences) ? [] :
        [.. licences.EnumerateArray().Select(licence => licence.TryGetProperty("license", out JsonElement one)
            && one.TryGetProperty("id", out JsonElement id) ? id.GetString() : null).OfType<string>()];
    // Where there is a choice, the first of which there is a text is taken.
    string? taken = ids.FirstOrDefault(id => File.Exists(TextOf(id)));
    if (taken is null && texts.Length == 0) return Missing($"{name} {version}", string.Join(" or ", ids));
    string holder = part.TryGetProperty("copyright", out JsonElement copyright) ? copyright.GetString()! : "";
    Add($"{name} {version}", holder, taken is null ? [] : [taken], texts);
}

foreach (string runtime in runtimes)
{
    string? folder = Directory.Exists(Path.Combine(args[1], runtime))
        ? Directory.GetDirectories(Path.Combine(args[1], runtime)).Order(StringComparer.Ordinal).LastOrDefault() : null;
    if (folder is null) return Missing(runtime, "MIT");
    Add($".NET: {runtime} {Path.GetFileName(folder)}", "Copyright © .NET Foundation and Contributors", [],
        [.. fileNames.Select(file => Path.Combine(folder, file)).Where(File.Exists)]);
}

foreach (string line in File.ReadLines(Path.Combine(here, "opencv-parts.tsv")).Where(line => !line.StartsWith('#')))
{
    string[] row = line.Split('\t');
    string[] ids = row[2].Split(", ");
    if (Array.Find(ids, id => !File.Exists(TextOf(id))) is { } absent) return Missing(row[0], absent);
    Add($"in libOpenCvSharpExtern: {row[0]} {row[1]}", $"{row[3]}\n{row[4]}", ids, []);
}

Add("Roboto Condensed (typeface)", "Copyright © 2011 The Roboto Project Authors", [],
    [Path.Combine(here, "../CardScan.Reporting/Fonts/LICENSE.txt")]);
foreach (string id in used.Order(StringComparer.Ordinal))
    text.AppendLine().AppendLine(new string('=', 80)).AppendLine(id).AppendLine().AppendLine(File.ReadAllText(TextOf(id)).TrimEnd());
File.WriteAllText(args[2], text.ToString());
return 0;

string TextOf(string id) => Path.Combine(here, "licences", $"{id}.txt");

int Missing(string part, string licence)
{
    Console.Error.WriteLine($"There is no licence text for {part} ({licence}): add it to src/packaging/licences.");
    return 1;
}

void Add(string name, string holder, string[] ids, string[] texts)
{
    text.AppendLine().AppendLine(new string('-', 80)).AppendLine(name);
    if (holder.Length > 0) text.AppendLine(holder);
    if (ids.Length > 0) text.AppendLine($"Licence: {string.Join(", ", ids)}");
    used.UnionWith(ids);
    foreach (string file in texts) text.AppendLine().AppendLine(File.ReadAllText(file).TrimEnd());
}
