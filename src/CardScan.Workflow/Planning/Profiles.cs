using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>A profile that was found.</summary>
/// <param name="Content">What it holds.</param>
/// <param name="Path">Its file.</param>
public sealed record Profile<T>(T Content, string Path);

/// <summary>
/// Machines and materials that are kept as small files: <c>machines/NAME.json</c> and <c>materials/NAME.json</c> in one folder.
/// </summary>
/// <param name="folder">The folder; it need not be there.</param>
public sealed class Profiles(string folder)
{
    private const string Machines = "machines", Materials = "materials", Ending = ".json";

    private string MachineFolder => Path.Combine(folder, Machines);

    private string MaterialFolder => Path.Combine(folder, Materials);

    /// <summary>Reads a machine's profile.</summary>
    /// <param name="nameOrPath">A name, or the path of a file: whatever ends in .json or has a folder in it.</param>
    /// <returns>The profile, null where no profile has that name, or what is wrong with the file.</returns>
    public Outcome<Profile<Machine>?> FindMachine(string nameOrPath) =>
        Find(nameOrPath, MachineFolder, "machine", bytes => CardJson.ReadMachine(bytes));

    /// <summary>Reads a material's profile; as <see cref="FindMachine"/>.</summary>
    public Outcome<Profile<Material>?> FindMaterial(string nameOrPath) =>
        Find(nameOrPath, MaterialFolder, "material", bytes => CardJson.ReadMaterial(bytes));

    /// <summary>Keeps a machine under its name.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="mayReplace">Whether a profile of that name may be replaced.</param>
    /// <returns>The file, or why there is none.</returns>
    public Outcome<string> Save(Machine machine, bool mayReplace)
    {
        ArgumentNullException.ThrowIfNull(machine);
        return Save(machine.Name, MachineFolder, CardJson.Write(machine), mayReplace, text => CardJson.ReadMachine(text).Refusal);
    }

    /// <summary>Keeps a material under its name; as the other one.</summary>
    public Outcome<string> Save(Material material, bool mayReplace)
    {
        ArgumentNullException.ThrowIfNull(material);
        return Save(material.Name, MaterialFolder, CardJson.Write(material), mayReplace, text => CardJson.ReadMaterial(text).Refusal);
    }

    /// <summary>Files of all machines, in order.</summary>
    public ValueList<string> MachineFiles() => FilesIn(MachineFolder);

    /// <summary>Files of all materials, in order.</summary>
    public ValueList<string> MaterialFiles() => FilesIn(MaterialFolder);

    /// <summary>Why nothing can be planned for a machine whose optical watts are not known.</summary>
    /// <param name="name">Its name.</param>
    public Refusal WattsMissing(string name)
    {
        string[] known = [.. MachineFiles().Select(file => Path.GetFileNameWithoutExtension(file))];
        return known.Length == 0
            ? Refusal.OfInput(Codes.MachineWatts, ("machine", name))
            : Refusal.OfInput(Codes.MachineWatts, ("machine", name), ("profiles", List(known)));
    }

    /// <summary>A hint where a machine's watts look like those of its supply, or null.</summary>
    public static Advice? HintFor(Machine machine) => CardPlanner.WattsHint(machine);

    /// <summary>
    /// What a material's name tells of danger, before anybody plans with it: what must not be burned, else what to look up.
    /// </summary>
    /// <param name="material">The material.</param>
    /// <returns>A sentence or two; null where the name tells of nothing, which proves nothing.</returns>
    public static string? DangerOf(Material material)
    {
        ArgumentNullException.ThrowIfNull(material);
        return CardPlanner.DangerOf(material.Name)?.ToString() ?? CardPlanner.CautionOf(material.Name)?.Message;
    }

    /// <summary>True for the path of a file: whatever ends in .json or has a folder in it.</summary>
    public static bool IsFileName(string nameOrPath)
    {
        ArgumentNullException.ThrowIfNull(nameOrPath);
        return nameOrPath.EndsWith(Ending, StringComparison.OrdinalIgnoreCase)
            || nameOrPath.AsSpan().ContainsAny('/', Path.DirectorySeparatorChar);
    }

    private static ValueList<string> FilesIn(string folder) =>
        Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "*" + Ending).Order(StringComparer.Ordinal).ToValueList() : [];

    private static Outcome<Profile<T>?> Find<T>(string nameOrPath, string folder, string what, Func<byte[], Outcome<T>> read)
    {
        bool isPath = IsFileName(nameOrPath);
        string path = isPath ? nameOrPath : Path.Combine(folder, FileNameOf(nameOrPath));
        if (!isPath && !File.Exists(path)) return (Profile<T>?)null;
        Outcome<byte[]> bytes = InputFile.ReadBytes(path, what);
        if (bytes.IsRefused) return bytes.Refusal!;
        Outcome<T> content = read(bytes.Value);
        return content.IsRefused ? content.Refusal!.In(path) : new Profile<T>(content.Value, path);
    }

    private static Outcome<string> Save(string name, string folder, string text, bool mayReplace, Func<byte[], Refusal?> check)
    {
        NewFile file = NewFile.OfText(FileNameOf(name), text);
        if (check(file.Bytes) is { } fault) return fault;
        string path = Path.Combine(folder, file.Name);
        if (File.Exists(path) && !mayReplace && !File.ReadAllBytes(path).AsSpan().SequenceEqual(file.Bytes))
            return Refusal.OfInput(Codes.ProfileExists, ("path", path));
        Outcome<ValueList<string>> written = OutputFolder.Write(folder, [file]);
        return written.IsRefused ? written.Refusal! : written.Value[0];
    }

    /// <summary>Letters and digits of the name, small, the rest as hyphens: "Bench diode" and "bench-diode" are one profile.</summary>
    private static string FileNameOf(string name) =>
        string.Concat(name.Trim().Select(c => char.IsLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-')) + Ending;
}
