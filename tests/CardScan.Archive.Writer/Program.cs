using System.Globalization;
using CardScan.Archive;
using CardScan.Archive.Tests;
using CardScan.Model;

// Keeps readings until it is killed, or as many as are asked for, and tells each after it was kept. Its own process, so
// that tests can kill it or run two at once.
//   FOLDER NAME [COUNT]
int most = args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : int.MaxValue;
for (int i = 0; i < most; i++)
{
    Outcome<CardArchive> archive = CardArchive.Open(args[0], TimeProvider.System);
    if (archive.IsRefused)
    {
        Console.Error.WriteLine(archive.Refusal);
        return 1;
    }

    using CardArchive opened = archive.Value;
    Outcome<KeptReading> kept = opened.KeepReading(Kept.Reading(Kept.Plan(number: i % 250), $"{args[1]} {i}"));
    if (kept.IsRefused)
    {
        Console.Error.WriteLine(kept.Refusal);
        return 1;
    }

    Console.WriteLine(kept.Value.Name);
    Console.Out.Flush();
}

return 0;
