using System.Globalization;
using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>A profile that was found.</summary>
/// <param name="Content">What it holds.</param>
/// <param name="Path">Its file.</param>
public sealed record Profile<T>(T Content, string Path);

/// <summary>A profile of either kind: one of the two is there.</summary>
/// <param name="Machine">The machine's.</param>
/// <param name="Material">The material's.</param>
public sealed record KeptProfile(Profile<Machine>? Machine, Profile<Material>? Material)
{
    /// <summary>The name that it was kept under.</summary>
    public string Name => Machine?.Content.Name ?? Material!.Content.Name;

    /// <summary>Its file.</summary>
    public string Path => Machine?.Path ?? Material!.Path;

    /// <summary>Name, kind, and the values that matter most; what it does not tell is left out.</summary>
    public Phrase InWords => Machine is { Content: var machine } ? InWordsOf(machine) : InWordsOf(Material!.Content);

    private static Phrase InWordsOf(Machine machine) => new("terminal.profile-machine", Figures.Known(
        ("name", machine.Name),
        ("watts", In(Unit.Watts, machine.RatedOpticalWatts)),
        ("wavelength", machine.WavelengthNm is { } nm ? In(Unit.Nm, nm) : null),
        ("width", machine.WorkArea is { } area ? Mm(area.WidthMm) : null),
        ("height", machine.WorkArea is { } same ? Mm(same.HeightMm) : null),
        ("feed", machine.FastestFeedMmPerMin is { } feed ? Speed(feed) : null),
        ("full-power", machine.FullPowerS is { } s ? In(Unit.None, s) : null),
        ("follows", Is(machine.BeamMode is BeamMode.FollowsSpeed))));

    private static Phrase InWordsOf(Material material) => new("terminal.profile-material", Figures.Known(
        ("name", material.Name),
        ("thickness", material.ThicknessMm is { } mm ? Mm(mm) : null),
        ("batch", Figures.Text(material.Batch)),
        ("mark", material.Mark is { } mark ? new SettingFigure(mark.SpeedMmPerMin, mark.PowerPercent) : null)));
}

/// <summary>
/// Machines and materials that are kept as small files: <c>machines/NAME.json</c> and <c>materials/NAME.json</c> in one folder.
/// </summary>
/// <param name="folder">The folder; it need not be there.</param>
/// <param name="sharedFolder">Where materials are that several people share; null where they are in the same folder.</param>
public sealed class Profiles(string folder, string? sharedFolder = null)
{
    private const string Machines = "machines", Materials = "materials", Ending = ".json";

    private static readonly string[] PathStarts = ["./", "../", "~/", ".\\", "..\\"];

    /// <summary>The folder.</summary>
    public string Folder => folder;

    private string MachineFolder => Path.Combine(folder, Machines);

    private string MaterialFolder => Path.Combine(sharedFolder ?? folder, Materials);

    /// <summary>One member's own machines and preferences, beside the materials of all.</summary>
    /// <param name="member">The member.</param>
    public Profiles Of(Member member)
    {
        ArgumentNullException.ThrowIfNull(member);
        return new(Path.Combine(folder, "members", member.Id.ToString(CultureInfo.InvariantCulture)), folder);
    }

    /// <summary>Reads a machine's profile.</summary>
    /// <param name="nameOrPath">A name, or the path of a file: see <see cref="IsFileName"/>.</param>
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

    /// <summary>The profile of a name.</summary>
    /// <param name="name">The name.</param>
    /// <param name="isMachine">Which kind is meant; null for the one that there is.</param>
    /// <returns>The profile; or why there is none, with the name that may have been meant.</returns>
    public Outcome<KeptProfile> Named(string name, bool? isMachine = null)
    {
        Profile<Machine>? machine = null;
        Profile<Material>? material = null;
        if (isMachine != false)
        {
            Outcome<Profile<Machine>?> found = FindMachine(name);
            if (found.IsRefused) return found.Refusal!;
            machine = found.Value;
        }

        if (isMachine != true)
        {
            Outcome<Profile<Material>?> found = FindMaterial(name);
            if (found.IsRefused) return found.Refusal!;
            material = found.Value;
        }

        if (machine is not null && material is not null) return Refusal.OfInput(Codes.ProfileWhich, ("name", name));
        if (machine is not null || material is not null) return new KeptProfile(machine, material);
        return MissingOf(name, isMachine);
    }

    /// <summary>Why nothing can be done with a profile that is not kept.</summary>
    /// <param name="name">The name.</param>
    /// <param name="isMachine">Which kind is meant; null for either.</param>
    public Refusal MissingOf(string name, bool? isMachine)
    {
        string[] names = [.. isMachine == false ? [] : MachineNames, .. isMachine == true ? [] : MaterialNames];
        return Refusal.OfInput(Codes.ProfileMissing, Figures.Known(("name", name), ("folder", folder),
            ("near", NearName.FigureOf(name, names)), ("profiles", names.Length == 0 ? null : List(names))));
    }

    /// <summary>The profile of a name that is kept here, as <see cref="Named"/>: a file from elsewhere is none.</summary>
    public Outcome<KeptProfile> Kept(string name, bool? isMachine = null)
    {
        Outcome<KeptProfile> named = Named(name, isMachine);
        if (named.IsRefused || Path.GetFullPath(FolderOf(named.Value)) == Path.GetDirectoryName(Path.GetFullPath(named.Value.Path)))
            return named;
        return Refusal.OfInput(Codes.ProfileMissing, ("name", name), ("folder", folder));
    }

    private string FolderOf(KeptProfile profile) => profile.Machine is null ? MaterialFolder : MachineFolder;

    /// <summary>Puts a changed profile in the place of the one that is kept.</summary>
    /// <param name="old">The profile that is kept.</param>
    /// <param name="machine">What a machine's is to hold.</param>
    /// <returns>The file; or what is wrong with the new values, and then the old profile is whole.</returns>
    public static Outcome<string> Replace(KeptProfile old, Machine machine) =>
        Replace(old, CardJson.Write(machine), bytes => CardJson.ReadMachine(bytes).Refusal);

    /// <summary>The same with a material.</summary>
    public static Outcome<string> Replace(KeptProfile old, Material material) =>
        Replace(old, CardJson.Write(material), bytes => CardJson.ReadMaterial(bytes).Refusal);

    private static Outcome<string> Replace(KeptProfile old, string text, Func<byte[], Refusal?> check)
    {
        ArgumentNullException.ThrowIfNull(old);
        NewFile file = NewFile.OfText(Path.GetFileName(old.Path), text);
        if (check(file.Bytes) is { } fault) return fault;
        Outcome<ValueList<string>> written = OutputFolder.Write(Path.GetDirectoryName(old.Path)!, [file]);
        return written.IsRefused ? written.Refusal! : written.Value[0];
    }

    /// <summary>Removes a profile for good; it is the default no longer.</summary>
    /// <returns>Its file, or why it is still there.</returns>
    public Outcome<string> Remove(KeptProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        Outcome<Preferences> before = ReadPreferences();
        if (before.IsRefused) return before.Refusal!;
        Preferences left = Without(before.Value, profile);
        if (left != before.Value && Save(left) is { IsRefused: true } notSaved) return notSaved.Refusal!;
        try
        {
            File.Delete(profile.Path);
            return profile.Path;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Refusal.OfPlace(Codes.FolderUnwritable,
                ("folder", Path.GetDirectoryName(profile.Path)!), ("cause", e.Message.TrimEnd('.')));
        }
    }

    /// <summary>Whether a profile is the one that is used where none is given.</summary>
    public static bool IsDefault(Preferences preferences, KeptProfile profile) => Without(preferences, profile) != preferences;

    /// <summary>Preferences in which a profile is the default.</summary>
    public static Preferences WithDefault(Preferences preferences, KeptProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        return profile.Machine is null ? preferences with { Material = profile.Name } : preferences with { Machine = profile.Name };
    }

    /// <summary>Preferences in which a profile is not the default.</summary>
    public static Preferences Without(Preferences preferences, KeptProfile profile)
    {
        ArgumentNullException.ThrowIfNull(preferences);
        ArgumentNullException.ThrowIfNull(profile);
        if (profile.Machine is null) return AreOne(preferences.Material, profile.Name) ? preferences with { Material = null } : preferences;
        return AreOne(preferences.Machine, profile.Name) ? preferences with { Machine = null } : preferences;
    }

    /// <summary>What was chosen for every command; nothing where there is no file.</summary>
    public Outcome<Preferences> ReadPreferences()
    {
        string path = Path.Combine(folder, Preferences.FileName);
        if (!File.Exists(path)) return new Preferences();
        Outcome<byte[]> bytes = InputFile.ReadBytes(path, "preferences");
        if (bytes.IsRefused) return bytes.Refusal!;
        return Preferences.Read(bytes.Value) is { } read ? read : Refusal.OfInput(Codes.PreferencesWrong, ("path", path));
    }

    /// <summary>Keeps what was chosen.</summary>
    /// <returns>The file, or why there is none; the old one is whole then.</returns>
    public Outcome<string> Save(Preferences preferences)
    {
        ArgumentNullException.ThrowIfNull(preferences);
        Outcome<ValueList<string>> written = OutputFolder.Write(folder, [NewFile.OfText(Preferences.FileName, preferences.Write())]);
        return written.IsRefused ? written.Refusal! : written.Value[0];
    }

    /// <summary>A machine's profile for a card that follows one that was burned.</summary>
    /// <param name="burned">The machine of that card.</param>
    /// <param name="given">The machine that is asked for: a name or a file; null where none is.</param>
    /// <returns>
    /// The profile, under the name that the card knows, so that both cards are of one kind; null where the card's own
    /// machine is to be used; or a refusal where it is another machine.
    /// </returns>
    public Outcome<Machine?> ForNext(Machine burned, string? given)
    {
        ArgumentNullException.ThrowIfNull(burned);
        if (given is null)
        {
            // A default that cannot be read, or is another machine, has nothing to say to a card that was burned already.
            Outcome<Preferences> kept = ReadPreferences();
            if (kept.IsRefused || !AreOne(kept.Value.Machine, burned.Name)) return (Machine?)null;
            given = kept.Value.Machine!;
        }

        Outcome<KeptProfile> named = Named(given, isMachine: true);
        if (named.IsRefused) return named.Refusal!;
        Machine machine = named.Value.Machine!.Content;
        bool isSame = machine.RatedOpticalWatts == burned.RatedOpticalWatts
            && (machine.WavelengthNm is null || burned.WavelengthNm is null || machine.WavelengthNm == burned.WavelengthNm);
        return isSame
            ? machine with { Name = burned.Name }
            : Refusal.OfInput(Codes.NextOtherMachine, Figures.Known(
                ("machine", machine.Name), ("watts", In(Unit.Watts, machine.RatedOpticalWatts)),
                ("wavelength", machine.WavelengthNm is { } nm ? In(Unit.Nm, nm) : null),
                ("burned", burned.Name), ("burned-watts", In(Unit.Watts, burned.RatedOpticalWatts)),
                ("burned-wavelength", burned.WavelengthNm is { } was ? In(Unit.Nm, was) : null)));
    }

    /// <summary>The name of a kept profile that may have been meant by one of which none is kept; null where none is like it.</summary>
    public string? NearMachine(string name) => NearName.Of(name, MachineNames);

    /// <summary>The same of materials.</summary>
    public string? NearMaterial(string name) => NearName.Of(name, MaterialNames);

    /// <summary>Names of the machines that can be read.</summary>
    public IEnumerable<string> MachineNames =>
        MachineFiles().Select(FindMachine).Where(found => !found.IsRefused).Select(found => found.Value!.Content.Name);

    /// <summary>Names of the materials that can be read.</summary>
    public IEnumerable<string> MaterialNames =>
        MaterialFiles().Select(FindMaterial).Where(found => !found.IsRefused).Select(found => found.Value!.Content.Name);

    /// <summary>All machines that are kept here, in the order of their names; or what is wrong with a file.</summary>
    public IEnumerable<Outcome<KeptProfile>> KeptMachines() => MachineFiles().Select(file =>
    {
        Outcome<Profile<Machine>?> found = FindMachine(file);
        return found.IsRefused ? found.Refusal! : (Outcome<KeptProfile>)new KeptProfile(found.Value, null);
    });

    /// <summary>All materials; likewise.</summary>
    public IEnumerable<Outcome<KeptProfile>> KeptMaterials() => MaterialFiles().Select(file =>
    {
        Outcome<Profile<Material>?> found = FindMaterial(file);
        return found.IsRefused ? found.Refusal! : (Outcome<KeptProfile>)new KeptProfile(null, found.Value);
    });

    /// <summary>
    /// A profile that is kept here under a name, whatever the name looks like: no file elsewhere is looked at. Null where none is.
    /// </summary>
    /// <param name="name">The name, from anybody.</param>
    /// <param name="isMachine">Which kind is meant.</param>
    public KeptProfile? OfName(string name, bool isMachine) => (isMachine ? KeptMachines() : KeptMaterials())
        .Where(kept => !kept.IsRefused).Select(kept => kept.Value).FirstOrDefault(kept => AreOne(name, kept.Name));

    /// <summary>Files of all machines, in order.</summary>
    public ValueList<string> MachineFiles() => FilesIn(MachineFolder);

    /// <summary>Files of all materials, in order.</summary>
    public ValueList<string> MaterialFiles() => FilesIn(MaterialFolder);

    /// <summary>Why nothing can be planned for a machine whose optical watts are not known.</summary>
    /// <param name="name">Its name.</param>
    public Refusal WattsMissing(string name)
    {
        string[] known = [.. MachineNames];
        return Refusal.OfInput(Codes.MachineWatts, Figures.Known(("machine", name),
            ("profiles", known.Length == 0 ? null : List(known)), ("near", NearName.FigureOf(name, known))));
    }

    /// <summary>What of a machine looks like a slip: the watts of its supply, a feed in mm/s.</summary>
    public static IEnumerable<Advice> HintsFor(Machine machine) => CardPlanner.MachineHints(machine);

    /// <summary>
    /// What a material's name tells of danger, before anybody plans with it: what must not be burned, else what to look up.
    /// </summary>
    /// <param name="material">The material.</param>
    /// <returns>A sentence or two; null where the name tells of nothing, which proves nothing.</returns>
    public static string? DangerOf(Material material)
    {
        ArgumentNullException.ThrowIfNull(material);
        return CardPlanner.DangerOf(material.Name)?.ToString() 
            ?? (CardPlanner.AgainstBurning(material.Name) is [var caution, ..] ? caution.Message : null);
    }

    /// <summary>
    /// True for the path of a file: what ends in .json, begins like a path, or names a file in a folder. Other slashes belong
    /// to names: "1/8 inch birch".
    /// </summary>
    /// <param name="nameOrPath">A name or a path.</param>
    /// <param name="from">The folder that relative paths start from.</param>
    public static bool IsFileName(string nameOrPath, string from = "")
    {
        ArgumentNullException.ThrowIfNull(nameOrPath);
        return nameOrPath.EndsWith(Ending, StringComparison.OrdinalIgnoreCase)
            || Path.IsPathFullyQualified(nameOrPath)
            || PathStarts.Any(start => nameOrPath.StartsWith(start, StringComparison.Ordinal))
            || (nameOrPath.AsSpan().ContainsAny('/', Path.DirectorySeparatorChar) && File.Exists(Path.Combine(from, nameOrPath)));
    }

    /// <summary>Whether two names are those of one profile.</summary>
    private static bool AreOne(string? name, string other) => name is not null && FileNameOf(name) == FileNameOf(other);

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
