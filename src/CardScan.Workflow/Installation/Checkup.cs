using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using CardScan.Vision;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>One thing that was looked at.</summary>
/// <param name="Part">
/// Which: <c>program</c>, <c>library</c>, <c>card</c>, <c>archive</c>, <c>profiles</c>, <c>temporary</c>, <c>browser</c>,
/// <c>network</c>.
/// </param>
/// <param name="Found">What was found; null where that is a fault.</param>
/// <param name="Fault">What is wrong, and what to do.</param>
public sealed record CheckedPart(string Part, Phrase? Found, Refusal? Fault = null)
{
    /// <summary>False where CardScan does its work without it.</summary>
    public bool IsNeeded => Part != Checkup.BrowserPart
        && Fault?.Code is not (Codes.LittleRoom or Codes.ArchiveMissing or Codes.NoPrivateAddress);
}

/// <summary>Where a checkup looks.</summary>
/// <param name="ProgramFolder">Folder of the program, with the shipped cards.</param>
/// <param name="Version">Version of the program, with its build.</param>
/// <param name="Archive">The archive, which need not be there.</param>
/// <param name="Profiles">The profiles.</param>
/// <param name="Browser">Program that opens pages; null for the system's.</param>
/// <param name="LocalAddress">This computer's address in its local network; null where it has none.</param>
public sealed record CheckupPlaces(
    string ProgramFolder, string Version, ArchivePlace Archive, Profiles Profiles, string? Browser, string? LocalAddress);

/// <summary>Looks at what CardScan needs on this computer: its own files, the archive, room on the disk, a browser, a network.</summary>
public static class Checkup
{
    internal const string BrowserPart = "browser";

    /// <summary>Chosen here: an archive grows by some 5 MB a photo. Half of it would be told too late for a folder of photos.</summary>
    private const long LeastRoomBytes = 500_000_000;

    /// <summary>Programs that open a page on Linux; every other system has its own.</summary>
    private const string LinuxOpener = "xdg-open";

    /// <summary>Looks at one thing after the other; changes nothing.</summary>
    /// <param name="places">Where to look.</param>
    public static IEnumerable<CheckedPart> Run(CheckupPlaces places)
    {
        ArgumentNullException.ThrowIfNull(places);
        yield return Program(places);
        foreach (NativePart part in CardReader.NativeParts.Concat(CardArchive.NativeParts)) yield return Library(part);
        yield return Trial(places.ProgramFolder);
        yield return Kept(places.Archive);
        yield return places.Archive.Bucket is { } bucket
            ? new("files", new("checkup.bucket", ("bucket", bucket)))
            : Room("archive", places.Archive.Folder);
        yield return Profiled(places.Profiles);
        yield return Room("temporary", Path.TrimEndingDirectorySeparator(Path.GetTempPath()));
        yield return Opener(places.Browser);
        yield return Network(places.LocalAddress);
    }

    private static CheckedPart Program(CheckupPlaces places) => InstalledFiles.Damage(places.ProgramFolder) is { } damage
        ? new("program", null, damage)
        : new("program", new("checkup.program", ("version", places.Version), ("runtime", RuntimeInformation.FrameworkDescription),
            ("native", Is(!RuntimeFeature.IsDynamicCodeSupported)), ("system", RuntimeInformation.RuntimeIdentifier)));

    private static CheckedPart Library(NativePart part)
    {
        try
        {
            return new("library", new("checkup.library", ("name", part.Name), ("version", part.Load())));
        }
        catch (Exception e) when (LibraryFault.Of(e) is not null)
        {
            return new("library", null, LibraryFault.Of(e));
        }
    }

    /// <summary>Reads the shipped card: whether all of it works together.</summary>
    private static CheckedPart Trial(string folder)
    {
        long start = Stopwatch.GetTimestamp();
        Outcome<ReadCardsResult> read;
        try
        {
            read = ReadCards.Run(new() { Photos = [Demo.PhotoIn(folder)], Plans = [Demo.PlanIn(folder)] });
        }
        catch (Exception e) when (LibraryFault.Of(e) is not null)
        {
            return new("card", null, LibraryFault.Of(e));
        }

        Refusal? fault = read.Refusal ?? (read.Value.Refused is [var refused, ..] ? refused.Refusal : null);
        if (fault is not null) return new("card", null, fault);
        return new("card", new("checkup.card", ("time", Seconds(Stopwatch.GetElapsedTime(start).TotalSeconds))));
    }

    private static CheckedPart Kept(ArchivePlace archive)
    {
        Outcome<FoundCards> found = archive.Find(new() { Most = 1 });
        return found.Refusal?.Code == Codes.ArchiveMissing ? new("archive", new("checkup.no-archive", ("folder", archive.Name)))
            : found.IsRefused ? new("archive", null, found.Refusal)
            : new("archive", new("checkup.archive", ("folder", archive.Name),
                ("cards", (int)Math.Min(found.Value.Count, FoundCards.MostCounted)), ("more", Figures.Is(found.Value.IsUncounted))));
    }

    private static CheckedPart Profiled(Profiles profiles)
    {
        Outcome<KeptProfile>[] kept = [.. profiles.KeptMachines(), .. profiles.KeptMaterials()];
        Refusal? fault = kept.Select(profile => profile.Refusal).Prepend(profiles.ReadPreferences().Refusal)
            .FirstOrDefault(refusal => refusal is not null);
        if (fault is not null) return new("profiles", null, fault);
        return new("profiles", new("checkup.profiles", ("folder", profiles.Folder), ("count", kept.Length)));
    }

    /// <summary>Room on the disk of a folder, or of the nearest one above that is there.</summary>
    private static CheckedPart Room(string part, string folder)
    {
        try
        {
            string there = folder;
            while (!Directory.Exists(there) && Path.GetDirectoryName(there) is { Length: > 0 } above) there = above;
            long free = new DriveInfo(there).AvailableFreeSpace;
            Figure room = In(Unit.Bytes, free);
            return free >= LeastRoomBytes ? new(part, new("checkup.room", ("folder", there), ("room", room)))
                : new(part, null, Refusal.OfPlace(Codes.LittleRoom, ("folder", there), ("room", room)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return new(part, null, Refusal.OfPlace(Codes.FileUnreadable, ("path", folder), ("cause", e.Message.TrimEnd('.'))));
        }
    }

    private static CheckedPart Opener(string? browser)
    {
        if (browser is null && !OperatingSystem.IsLinux()) return new(BrowserPart, new("checkup.browser-usual"));
        string program = browser ?? LinuxOpener;
        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        bool isThere = File.Exists(program) || folders.Any(folder => File.Exists(Path.Combine(folder, program)));
        return isThere ? new(BrowserPart, new("checkup.browser", ("program", program)))
            : new(BrowserPart, null, Refusal.OfPlace(Codes.BrowserMissing, ("program", program), ("given", Is(browser is not null))));
    }

    private static CheckedPart Network(string? address) => address is null ? new("network", null, Refusal.OfPlace(Codes.NoPrivateAddress))
        : new("network", new("checkup.network", ("address", address)));
}
